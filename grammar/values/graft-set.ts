import type { Intervals } from '../statement.ts';
import { normalize, size } from './intervals.ts';

export const largestNumber = 999_999;

export interface ReadGrafts {
  readonly name: string;
  readonly numbers: Intervals;
  readonly zero: boolean;
  readonly tooLarge: boolean;
}

/** `K26.1..12,14`, with `-` or `–` for a range; written backwards it is the same set (decided row 10). */
export function readGrafts(image: string): ReadGrafts {
  const dot = /\.(?=\d)/.exec(image)?.index ?? image.length;
  const ranges: number[] = [];
  for (const part of image.slice(dot + 1).split(/,[ \u00A0]?/)) {
    const [low, high] = part.split(/[ \u00A0]?\.\.[ \u00A0]?|[-–]/).map(Number);
    ranges.push(low ?? 0, high ?? low ?? 0);
  }
  const numbers = normalize(ranges);
  return {
    name: image.slice(0, dot),
    numbers,
    zero: ranges.includes(0),
    tooLarge: (numbers.at(-1) ?? 0) > largestNumber || size(numbers) > largestNumber,
  };
}
