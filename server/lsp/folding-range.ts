import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import type { Line, Statement } from '#grammar/statement.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import type { FileView, Slices } from './feature.ts';
import { saysName } from './name-at.ts';
import { unchanged } from './unchanged.ts';

/** What was folded of each file that is open: after a key only the days it changed are gone through. */
export class FileFolds {
  readonly #kept = new Map<string, Folded>();

  *of({ document, root, file, uri }: FileView): Slices<FoldingRange[]> {
    const lines = document.entries.map(({ line }) => line);
    const folds = yield* foldsOf(lines, this.#kept.get(uri));
    if (root.open.has(file)) this.#kept.set(uri, { lines, folds });
    return folds;
  }

  closed(uri: string): void {
    this.#kept.delete(uri);
  }
}

interface Folded {
  readonly lines: readonly Line[];
  /** In order of the days. */
  readonly folds: readonly FoldingRange[];
}

/**
 * What can be folded: a day with the lines under it, neighbouring declarations of one kind, a batch with the lines right
 * below that are on it, and remarks that fill several lines. No fold reaches over a day line, so from one that stayed to
 * the next the folds stay, too. Yields between many lines.
 */
function* foldsOf(lines: readonly Line[], known: Folded = { lines: [], folds: [] }): Slices<FoldingRange[]> {
  const [above, below] = unchanged(known.lines, lines);
  const begins = (line: number) => beginsDay(lines[line] as Line);
  let from = Math.max(0, above - 1);
  while (from > 0 && !begins(from)) from--;
  let to = lines.length - below;
  while (to < lines.length && !begins(to)) to++;
  const folds = new Folds();
  for (let line = from; line < to; line++) {
    if (line % 1000 === 999) yield;
    folds.add(line, lines[line] as Line);
  }
  const moved = lines.length - known.lines.length;
  return [
    ...known.folds.filter(({ startLine }) => startLine < from),
    ...folds.all(),
    ...known.folds.filter(({ startLine }) => startLine >= to - moved).map((fold) => shifted(fold, moved)),
  ];
}

const shifted = (fold: FoldingRange, by: number): FoldingRange =>
  by === 0 ? fold : { ...fold, startLine: fold.startLine + by, endLine: fold.endLine + by };

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
