import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import type { FileView, Slices } from './feature.ts';
import { namesIn } from './name-at.ts';

/** A stretch that is still open while the lines are gone through: where it began, and its last line that says something. */
interface Stretch {
  readonly start: number;
  end: number;
}

/**
 * What can be folded: a day with the lines under it, neighbouring declarations of one kind, a batch with the lines right
 * below that are on it, and remarks that fill several lines. Yields between many lines.
 */
export function* foldingRange({ document }: FileView): Slices<FoldingRange[]> {
  const folds: FoldingRange[] = [];
  const fold = (stretch: Stretch | undefined, kind?: FoldingRangeKind) => {
    if (stretch && stretch.end > stretch.start)
      folds.push({ startLine: stretch.start, endLine: stretch.end, ...(kind ? { kind } : {}) });
  };
  let day: Stretch | undefined;
  let remarks: Stretch | undefined;
  let alike: (Stretch & { readonly verb: string }) | undefined;
  let batch: (Stretch & { readonly key: string }) | undefined;
  const { entries } = document;
  for (let line = 0; line < entries.length; line++) {
    if (line % 1000 === 999) yield;
    const entry = entries[line] as Entry;
    const { statement, comment } = entry.line;
    const begins = beginsDay(entry.line);
    if (!statement && comment && !begins) {
      if (remarks) remarks.end = line;
      else remarks = { start: line, end: line };
    } else {
      fold(remarks, FoldingRangeKind.Comment);
      remarks = undefined;
    }
    if (begins) {
      fold(alike);
      fold(batch);
      fold(day);
      [alike, batch] = [undefined, undefined];
      day = { start: line, end: line };
      continue;
    }
    if (!statement) {
      if (alike && !comment) {
        fold(alike);
        alike = undefined;
      }
      continue;
    }
    if (day) day.end = line;
    const declares = verbRow(statement.verb).kind === 'declaration';
    if (batch && !declares && namesIn(statement).some(({ name }) => name.key === batch?.key)) {
      // the batch with its work is one fold; the declarations above it are another
      if (alike && alike.end === batch.start) alike.end = batch.start - 1;
      batch.end = line;
    } else {
      fold(batch);
      batch = undefined;
    }
    if (declares && alike?.verb === statement.verb) alike.end = line;
    else {
      fold(alike);
      alike = declares ? { start: line, end: line, verb: statement.verb } : undefined;
    }
    const name = statement.verb === 'batch' ? statement.sets[0]?.name : undefined;
    if (name) batch = { start: line, end: line, key: name.key };
  }
  fold(remarks, FoldingRangeKind.Comment);
  fold(alike);
  fold(batch);
  fold(day);
  return folds;
}
