/** Longer remarks stand below the line, as comments. */
const longest = { one: 400, all: 600 };

/** What of a row's remarks stands on its line, and what below it. */
export function remarksOf(remarks: readonly string[]): { readonly onLine: string; readonly below: readonly string[] } {
  const short = remarks.filter((remark) => remark.length <= longest.one);
  const onLine = short.join('; ');
  if (onLine.length > longest.all) return { onLine: '', below: remarks };
  return { onLine, below: remarks.filter((remark) => remark.length > longest.one) };
}
