/** What happened to a cell that is not in the log as it stands in the sheet. */
export type NoteKind =
  /** Read as nothing: `-`, `n/a`. */
  | 'blank'
  /** Read as not judged yet. */
  | 'open'
  /** Not read as its column's fact: it stands in the remark. */
  | 'remark'
  /** Its column is left out: `--map` asks for it, or it holds the reasons of an earlier import. */
  | 'left-out'
  /** A yes-or-no cell that says no: the log has no line for it. */
  | 'no'
  /** People whose names are written with hyphens. */
  | 'hyphen';

export interface Notes {
  add(kind: NoteKind, header: string, cell: string, row: number): void;
  /** A sentence for each column and kind; `as` says what the column is taken for. */
  sentences(as: (header: string) => string): string[];
}

/** Different cells that a sentence shows. */
const shown = 6;

/** Collects, column by column, what the preview has to name. Rows that are left in the end take theirs with them. */
export function notesOfSheet(isLeft: (row: number) => boolean): Notes {
  const found = new Map<string, { kind: NoteKind; header: string; cells: { cell: string; row: number }[] }>();
  return {
    add(kind, header, cell, row) {
      const key = `${kind}\n${header}`;
      const group = found.get(key) ?? { kind, header, cells: [] };
      group.cells.push({ cell: cell.trim(), row });
      found.set(key, group);
    },
    sentences: (as) =>
      [...found.values()].flatMap(({ kind, header, cells }) => {
        const kept = cells.filter(({ row }) => !isLeft(row));
        return kept.length > 0 ? [sentence(kind, header, kept, as(header))] : [];
      }),
  };
}

type Cells = readonly { readonly cell: string; readonly row: number }[];

function sentence(kind: NoteKind, header: string, cells: Cells, as: string): string {
  const where = `“${header}”`;
  const rows = cells.length === 1 ? `row ${cells[0]?.row}` : `${cells.length} rows`;
  switch (kind) {
    case 'blank':
      return `${where}: ${cellsText(cells, false)} read as blank (${rows}).`;
    case 'open':
      return `${where}: ${cellsText(cells, false)} read as not judged yet (${rows}).`;
    case 'remark':
      return `${where}: in the remark, not read as ${as}: ${cellsText(cells, true)}.`;
    case 'left-out':
      return `${where}: left out, and in no line of the log: ${allCells(cells)}.`;
    case 'no':
      return `${where}: ${cellsText(cells, false)} has no line in the log (${rows}).`;
    case 'hyphen':
      return `${where}: names written with hyphens: ${cellsText(cells, false)}.`;
  }
}

/** Each cell once, with a row it stands in. */
function cellsText(cells: Cells, rows: boolean): string {
  const first = new Map(cells.map(({ cell, row }) => [cell, row] as const).reverse());
  const texts = [...first].reverse().map(([cell, row]) => `“${short(cell)}”${rows ? ` (row ${row})` : ''}`);
  const more = texts.length - shown;
  return more > 0 ? `${texts.slice(0, shown).join(', ')} and ${more} more` : texts.join(', ');
}

const allCells = (cells: Cells) => [...new Set(cells.map(({ cell }) => `“${cell}”`))].join(', ');
const short = (cell: string) => {
  const line = cell.replace(/\s+/g, ' ');
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
};
