import type { Intervals } from '#grammar/statement.ts';
import { intervalsText, size } from '#grammar/values/intervals.ts';
import type { Batch } from './model.ts';

/** `K26.1..12`; the plain batch name where its grafts have no numbers. */
export function graftsText(batch: Pick<Batch, 'name' | 'counted'>, numbers: Intervals): string {
  return batch.counted || numbers.length === 0 ? batch.name : `${batch.name}.${intervalsText(numbers)}`;
}

/** The same for a sentence: a set of many pieces is cut short, so that the message stays one. */
export function graftsWords(batch: Pick<Batch, 'name' | 'counted'>, numbers: Intervals): string {
  const text = graftsText(batch, numbers);
  if (text.length <= 32) return text;
  const some = graftsText(batch, numbers.slice(0, 4));
  const more = size(numbers) - size(numbers.slice(0, 4));
  return more > 0 ? `${some} and ${more} more` : some;
}
