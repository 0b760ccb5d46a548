import type { Intervals } from '../statement.ts';
import { normalize, size } from './intervals.ts';

export const largestNumber = 999_999;

const comma = 44;
const zero = 48;

export interface ReadGrafts {
  readonly name: string;
  readonly numbers: Intervals;
  readonly zero: boolean;
  readonly tooLarge: boolean;
}

/** `K26.1..12,14`, with `-` or `–` for a range; written backwards it is the same set. */
export function readGrafts(image: string): ReadGrafts {
  const dot = image.indexOf('.') < 0 ? image.length : image.indexOf('.');
  const ranges: number[] = [];
  // read by hand: every line has a set, most one range of two numbers
  let number = 0;
  let digits = false;
  let low: number | undefined;
  for (let i = dot + 1; i <= image.length; i++) {
    const unit = i < image.length ? image.charCodeAt(i) : comma;
    if (unit >= zero && unit <= zero + 9) {
      number = number * 10 + unit - zero;
      digits = true;
      continue;
    }
    if (unit === comma) {
      if (digits) ranges.push(low ?? number, number);
      low = undefined;
    } else if (digits) low = number;
    else continue;
    number = 0;
    digits = false;
  }
  const numbers = normalize(ranges.slice());
  return {
    name: image.slice(0, dot),
    numbers,
    zero: numbers[0] === 0,
    tooLarge: (numbers.at(-1) ?? 0) > largestNumber || size(numbers) > largestNumber,
  };
}
