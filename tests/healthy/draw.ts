import fc, { type GeneratorValue } from 'fast-check';

/** Choices of one made-up season; fast-check takes them back step by step when a season fails. */
export interface Draw {
  /** A whole number, both ends included. */
  int(from: number, to: number): number;
  pick<T>(from: readonly T[]): T;
  /** True so many times in a hundred. */
  chance(percent: number): boolean;
}

/** Anything that is made up choice by choice. */
export const drawn = <T>(make: (draw: Draw) => T): fc.Arbitrary<T> => fc.gen().map((g) => make(drawOf(g)));

/** One die for all: fast-check looks each kind of die up in a list, and hundreds of kinds cost more than reading the log. */
const die = (): fc.Arbitrary<number> => fc.noBias(fc.nat(0x7fffffff));

function drawOf(g: GeneratorValue): Draw {
  const int = (from: number, to: number): number => (from >= to ? from : from + (g(die) % (to - from + 1)));
  return {
    int,
    pick: (from) => {
      if (from.length === 0) throw new Error('nothing to pick from');
      return from[int(0, from.length - 1)] as (typeof from)[number];
    },
    chance: (percent) => int(1, 100) > 100 - percent,
  };
}
