import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import type { Line, Statement } from '#grammar/statement.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import type { FileView, Slices } from './feature.ts';
import { saysName } from './name-at.ts';

/**
 * What can be folded: a day with the lines under it, neighbouring declarations of one kind, a batch with the lines right
 * below that are on it, and remarks that fill several lines. Yields between many lines.
 */
export function* foldingRange({ document }: FileView): Slices<FoldingRange[]> {
  const folds = new Folds();
  const { entries } = document;
  for (let line = 0; line < entries.length; line++) {
    if (line % 1000 === 999) yield;
    folds.add(line, (entries[line] as Entry).line);
  }
  return folds.all();
}

/** A stretch that is still open while the lines are gone through: where it began, and its last line that says something. */
interface Stretch {
  readonly start: number;
  end: number;
}

/** The folds of one line after another. */
class Folds {
  readonly #folds: FoldingRange[] = [];
  #day: Stretch | undefined;
  #remarks: Stretch | undefined;
  #alike: (Stretch & { readonly verb: string }) | undefined;
  #batch: (Stretch & { readonly key: string }) | undefined;

  add(line: number, said: Line): void {
    const { statement } = said;
    if (statement) {
      this.#endRemarks();
      this.#work(line, statement);
    } else if (beginsDay(said)) {
      this.#endRemarks();
      this.#endDay();
      this.#day = { start: line, end: line };
    } else if (said.comment) {
      if (this.#remarks) this.#remarks.end = line;
      else this.#remarks = { start: line, end: line };
    } else {
      this.#endRemarks();
      this.#alike = this.#fold(this.#alike);
    }
  }

  all(): FoldingRange[] {
    this.#endRemarks();
    this.#endDay();
    return this.#folds;
  }

  #work(line: number, statement: Statement): void {
    const { verb } = statement;
    if (this.#day) this.#day.end = line;
    const declares = verbRow(verb).kind === 'declaration';
    if (this.#batch && !declares && saysName(statement, this.#batch.key)) {
      // the batch with its work is one fold; the declarations above it are another
      if (this.#alike?.end === this.#batch.start) this.#alike.end = this.#batch.start - 1;
      this.#batch.end = line;
    } else this.#batch = this.#fold(this.#batch);
    if (declares && this.#alike?.verb === verb) this.#alike.end = line;
    else {
      this.#fold(this.#alike);
      this.#alike = declares ? { start: line, end: line, verb } : undefined;
    }
    const name = verb === 'batch' ? statement.sets[0]?.name : undefined;
    if (name) this.#batch = { start: line, end: line, key: name.key };
  }

  #endRemarks(): void {
    if (this.#remarks) this.#remarks = this.#fold(this.#remarks, FoldingRangeKind.Comment);
  }

  #endDay(): void {
    this.#alike = this.#fold(this.#alike);
    this.#batch = this.#fold(this.#batch);
    this.#day = this.#fold(this.#day);
  }

  /** Ends a stretch. */
  #fold(stretch: Stretch | undefined, kind?: FoldingRangeKind): undefined {
    if (stretch && stretch.end > stretch.start)
      this.#folds.push({ startLine: stretch.start, endLine: stretch.end, ...(kind ? { kind } : {}) });
  }
}
