/** What is said of a fault that nobody foresaw, in place of the bundle's code and a stack of its functions. */
export function faultText(error: unknown): string {
  const [what, where] =
    error instanceof Error ? [`${error.name}: ${error.message}`, placeIn(error.stack)] : [String(error)];
  return `This is a fault in graftlog, not in your log: ${what}${where ? ` (${where})` : ''}.`;
}

/** The innermost function and its place in the bundle: enough to find it by. */
const placeIn = (stack: string | undefined): string | undefined => /^ +at (.*?)(?:\n|$)/m.exec(stack ?? '')?.[1];
