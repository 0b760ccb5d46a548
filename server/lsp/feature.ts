import type { Document, Position } from '#grammar/document.ts';
import type { Entry } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';

/** What a request is answered from: one file of one log, as it stands now. */
export interface FileView {
  readonly root: Root;
  readonly uri: string;
  readonly file: string;
  readonly document: Document;
  /** The editor's theme, for drawings; neither where nobody told. */
  readonly theme: 'light' | 'dark' | undefined;
}

/** An answer in slices: between two of them other requests are heard; a promise it yields is waited for. */
export type Slices<T> = Generator<Promise<unknown> | undefined, T>;

/** Without a break, where nobody else is to be heard meanwhile; of an answer that waits for nothing. */
export function atOnce<T>(slices: Slices<T>): T {
  for (;;) {
    const step = slices.next();
    if (step.done) return step.value;
  }
}

/** The line under a position, and the UTF-16 unit in it. */
export function entryAt(view: FileView, position: Position): Entry | undefined {
  return view.document.entries[position.line];
}

export const inside = (span: { readonly start: number; readonly end: number }, character: number): boolean =>
  character >= span.start && character <= span.end;
