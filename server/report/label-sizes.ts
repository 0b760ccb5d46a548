/** A label and how it lies on its sheet; all in millimetres, type in points (look of the sheets: house default). */
export interface LabelSize {
  readonly help: string;
  readonly width: number;
  readonly height: number;
  readonly columns: number;
  readonly rows: number;
  /** From the sheet’s edge to the first label. */
  readonly top: number;
  readonly left: number;
  /** Absent: any paper that the sheet’s labels fit, A4 and Letter. */
  readonly paper?: 'A4' | 'letter';
  /** Room for words. */
  readonly words: number;
  readonly type: { readonly name: number; readonly stock: number; readonly number: number; readonly small: number };
  /** The code with its quiet zone, the largest version whose modules are half a millimetre there, and its levels, the wished one first. */
  readonly code?: { readonly side: number; readonly version: number; readonly levels: readonly ('L' | 'M' | 'Q')[] };
  /** So many grafts to a label. */
  readonly tray?: number;
}

const sheetLabel = {
  ...{ width: 70, height: 25, columns: 3, words: 37.5 },
  type: { name: 9, stock: 8.5, number: 12, small: 7.5 },
  // 33 modules and 4 on each side
  code: { side: 20.5, version: 4, levels: ['M', 'L'] },
} as const;
const tag = {
  ...{ width: 90, height: 45, columns: 2, rows: 5, top: 20, left: 15, words: 44 },
  type: { name: 11, stock: 9.5, number: 13, small: 9 },
  code: { side: 32, version: 6, levels: ['Q', 'M', 'L'] },
} as const;

/** What `--size` takes. Those with a paper are sheets of stick-on labels; the others are cut out. */
export const labelSizes = {
  label: { ...sheetLabel, help: '70 x 25 mm, 33 on A4', rows: 11, top: 11, left: 0, paper: 'A4' },
  letter: { ...sheetLabel, help: '70 x 25 mm, 30 on Letter', rows: 10, top: 14.7, left: 2.95, paper: 'letter' },
  strip: {
    ...{ help: '100 x 15 mm to stick in, no code', width: 100, height: 15, columns: 2, rows: 17, top: 12, left: 5 },
    ...{ words: 52, type: { name: 9, stock: 8.5, number: 14, small: 7.5 } },
  },
  loop: {
    ...{ help: '140 x 20 mm to tie on', width: 140, height: 20, columns: 1, rows: 12, top: 15, left: 35 },
    ...{ words: 76, type: { name: 9, stock: 8.5, number: 13, small: 7.5 } },
    // 29 modules and 4 on each side
    code: { side: 18.5, version: 3, levels: ['Q', 'M', 'L'] },
  },
  tree: { ...tag, help: '90 x 45 mm, for a tree or a customer' },
  tray: { ...tag, help: '90 x 45 mm, one to a tray of 40', tray: 40 },
} as const satisfies Record<string, LabelSize>;

export type LabelSizeName = keyof typeof labelSizes;
