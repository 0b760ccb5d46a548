import type { Intervals } from '#grammar/statement.ts';
import { largestNumber } from '#grammar/values/graft-set.ts';
import { normalize, size } from '#grammar/values/intervals.ts';

export interface GraftCell {
  /** The batch the cell itself names: `K26` of `K26-017`. */
  readonly batch?: string;
  readonly numbers?: Intervals;
}

export interface GraftColumn {
  /** The sheet has a column of batches. */
  readonly batches: boolean;
  /** The sheet has a column of counts: a name alone is then a batch. */
  readonly counts: boolean;
  /** `24-40` are numbers 24 to 40; if not, it is number 40 of a batch 24. */
  readonly dashes: 'range' | 'batch';
}

const set = /^\d+(?:\s*(?:\.\.|[-–]|to)\s*\d+)?(?:\s*[,+&]\s*\d+(?:\s*(?:\.\.|[-–]|to)\s*\d+)?)*$/;
/** A longer cell is no number of a graft, nor a set of them a hand wrote. */
const longest = 300;
const dashed = /^\d+\s*-\s*\d+$/;

/** A graft's number, a set of them, or a batch with either; `undefined` where the cell is none of these. */
export function readGraftCell(cell: string, batch: string, column: GraftColumn): GraftCell | undefined {
  if (cell.length > longest) return undefined;
  const text = cell.trim().replace(/^#\s*/, '');
  const bare = withoutBatch(text, batch);
  if (set.test(bare) && !(dashed.test(bare) && column.dashes === 'batch')) {
    const numbers = numbersOf(bare);
    return numbers && { numbers };
  }
  const parts = /^(.*[^\s.\-–_/#:])[\s.\-–_/#:]+(\d+)$/u.exec(text) ?? /^([\p{L}\p{M}]+)(\d+)$/u.exec(text);
  const several = /^(.*\p{L}.*?)[.\s](\d[\d\s.,–-]*)$/u.exec(text);
  if (several && set.test(several[2] ?? '') && !/^\d+$/.test(several[2] ?? '')) {
    const numbers = numbersOf(several[2] ?? '');
    return numbers && { batch: several[1] ?? '', numbers };
  }
  if (column.counts && !column.batches && /^\p{L}[^\s.]*$/u.test(text)) return { batch: text };
  if (!parts) return undefined;
  const numbers = numbersOf(parts[2] ?? '');
  return numbers && { batch: parts[1] ?? '', numbers };
}

/** Whether `1-40` in a column of grafts is a range: only if all such cells rise and none runs into another. */
export function dashesOf(cells: readonly { readonly batch: string; readonly cell: string }[]): GraftColumn['dashes'] {
  const seen = new Map<string, [number, number][]>();
  for (const { batch, cell } of cells) {
    const bare = withoutBatch(cell.trim().replace(/^#\s*/, ''), batch);
    if (cell.length > longest || !dashed.test(bare)) continue;
    const [low = 0, high = 0] = bare.split('-').map(Number);
    const before = seen.get(batch) ?? [];
    if (low >= high || before.some(([a, b]) => low <= b && a <= high)) return 'batch';
    before.push([low, high]);
    seen.set(batch, before);
  }
  return 'range';
}

/** `017` of `K26-017` in batch K26. */
function withoutBatch(text: string, batch: string): string {
  const starts = batch !== '' && text.toLowerCase().startsWith(batch.trim().toLowerCase());
  const rest = starts ? text.slice(batch.trim().length).replace(/^[\s.\-–_/#:]+/, '') : text;
  return rest === '' ? text : rest;
}

function numbersOf(text: string): Intervals | undefined {
  const ranges = text.split(/\s*[,+&]\s*/).flatMap((part) => {
    const [low = 0, high = low] = part.split(/\s*(?:\.\.|[-–]|to)\s*/).map(Number);
    return [low, high];
  });
  const numbers = normalize(ranges);
  const fits = numbers.length > 0 && (numbers[0] ?? 0) > 0 && (numbers.at(-1) ?? 0) <= largestNumber;
  return fits && size(numbers) <= largestNumber ? numbers : undefined;
}
