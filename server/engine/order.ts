import type { Entry } from './model.ts';

/**
 * The order of a history: day, time, file path by code point, place in the file. Lines without a day come first: they
 * take no part, but must stand somewhere.
 */
export function byHistory(a: Entry, b: Entry): number {
  if (a === b) return 0;
  const [dayA, dayB] = [a.day ?? Number.NEGATIVE_INFINITY, b.day ?? Number.NEGATIVE_INFINITY];
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return a.minute - b.minute || byPlace(a, b);
}

/** File path by code point, then downward in the file. */
export function byPlace(a: Entry, b: Entry): number {
  return a.file === b.file ? a.rank - b.rank : byCodePoint(a.file, b.file);
}

/** `<` compares UTF-16 units and would put U+10000 and up before U+E000. */
export function byCodePoint(a: string, b: string): number {
  if (a === b) return 0;
  const [left, right] = [a[Symbol.iterator](), b[Symbol.iterator]()];
  for (;;) {
    const [x, y] = [left.next(), right.next()];
    if (x.done || y.done) return x.done ? (y.done ? 0 : -1) : 1;
    const difference = (x.value.codePointAt(0) ?? 0) - (y.value.codePointAt(0) ?? 0);
    if (difference !== 0) return difference;
  }
}
