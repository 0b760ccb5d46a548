import { type GroupKey, groupKeys } from '#server/engine/figures/levels.ts';
import { UsageError } from './options.ts';

/** Keys as they are given, joined by commas; each once. */
export function readKeys(option: string, asked: string | boolean): GroupKey[] {
  const words = String(asked)
    .split(',')
    .map((word) => word.trim());
  const keys = words.map((word) => {
    const key = groupKeys.find((one) => one === word.toLowerCase());
    if (key) return key;
    throw new UsageError(`${word ? `There is no key ${word}` : `--${option} takes a key`}: ${groupKeys.join(', ')}.`);
  });
  return [...new Set(keys)];
}
