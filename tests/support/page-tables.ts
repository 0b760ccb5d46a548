/** The tables of a page by their number, `Table 1. …`: rows of cells as text, head rows first. */
export function pageTables(html: string): Map<number, string[][]> {
  const tables = new Map<number, string[][]>();
  for (const [, table = ''] of html.matchAll(/<table[^>]*>([\s\S]*?)<\/table>/g)) {
    const number = Number(/<caption>Table (\d+)/.exec(table)?.[1]);
    const rows = [...table.matchAll(/<tr[^>]*>([\s\S]*?)<\/tr>/g)].map(([, row = '']) =>
      [...row.matchAll(/<(?:th|td)[^>]*>([\s\S]*?)<\/(?:th|td)>/g)].map(([, cell = '']) => textOf(cell)),
    );
    tables.set(number, rows);
  }
  return tables;
}

/** What is read of a page or a piece of it, drawings left out. */
export function textOf(html: string): string {
  let read = html.replace(/<head>[\s\S]*<\/head>/, '');
  // one may lie in another: the inner ones go first
  for (let before = ''; before !== read; ) {
    before = read;
    read = read.replace(/<svg(?:(?!<svg)[\s\S])*?<\/svg>/g, '');
  }
  return read
    .replace(/<br>/g, ' ')
    .replace(/<[^>]+>/g, '')
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/[\u00A0\s]+/g, ' ')
    .trim();
}
