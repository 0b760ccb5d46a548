export type Cell = string | number | boolean | null;

/** One column: what it is called, what stands in it and where it comes from. */
export interface Column<Row> {
  readonly name: string;
  readonly type: 'string' | 'integer' | 'number' | 'boolean' | 'date';
  readonly help: string;
  /** UCUM code of a number: `mm`, `Cel`, `d`, `min`; `1` of counts and shares. */
  readonly unit?: string;
  /** The words that may stand there. */
  readonly words?: readonly string[];
  /** Never empty. */
  readonly always?: true;
  readonly of: (row: Row) => Cell | undefined;
}

/** A table as it is handed on, ready to be written. */
export interface Table {
  readonly name: string;
  readonly title: string;
  readonly help: string;
  readonly columns: readonly Omit<Column<never>, 'of'>[];
  /** Columns that tell each row from every other. */
  readonly key?: readonly string[];
  /** A column whose value is a row’s of another table. */
  readonly refers?: { readonly column: string; readonly table: string };
  rows(): Iterable<readonly Cell[]>;
}

/** Ties columns to what they are read from. */
export function tableOf<Row>(
  about: Omit<Table, 'columns' | 'rows'>,
  columns: readonly Column<Row>[],
  from: () => Iterable<Row>,
): Table {
  return {
    ...about,
    columns,
    *rows() {
      for (const row of from()) yield columns.map(({ of }) => of(row) ?? null);
    },
  };
}
