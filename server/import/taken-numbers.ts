import type { Intervals } from '#grammar/statement.ts';

interface Range {
  readonly low: number;
  readonly high: number;
  readonly row: number;
}

/** The numbers of a batch that rows have taken so far: a number stands for one graft, so the first row keeps it. */
export function takenNumbers() {
  const ranges: Range[] = [];
  /** Where the first range lies that ends at or behind a number. */
  const placeOf = (number: number): number => {
    let [from, to] = [0, ranges.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      if ((ranges[middle] as Range).high < number) from = middle + 1;
      else to = middle;
    }
    return from;
  };
  return {
    /** Takes all of the numbers, or none: then it gives the first that is taken already, and by which row. */
    take(numbers: Intervals, row: number): { readonly number: number; readonly row: number } | undefined {
      const mine: Range[] = [];
      for (let i = 0; i < numbers.length; i += 2)
        mine.push({ low: numbers[i] as number, high: numbers[i + 1] as number, row });
      for (const { low, high } of mine) {
        const near = ranges[placeOf(low)];
        if (near && near.low <= high) return { number: Math.max(low, near.low), row: near.row };
      }
      for (const range of mine) ranges.splice(placeOf(range.low), 0, range);
      return undefined;
    },
  };
}
