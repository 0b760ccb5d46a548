/** A cell's text in one line: a line break is a slash. */
export const oneLine = (cell: string): string =>
  cell
    .trim()
    .split(/[\r\n]+/)
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter(Boolean)
    .join(' / ');
