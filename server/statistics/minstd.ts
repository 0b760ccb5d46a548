const modulus = 2147483647;

/**
 * A small generator of random numbers that gives the same row from the same seed everywhere: s <- 48271 s mod 2^31 - 1,
 * the first three draws dropped. Products stay below 2^47, so that doubles hold them exactly.
 *
 * @param seed whole number; 0 and multiples of 2^31 - 1 start at 1
 * @returns `below(n)`: a whole number 0..n-1
 *
 * Source: Park, Miller & Stockmeyer 1993; ISO C++ `minstd_rand`, whose 10,000th number from 1 is 399268537.
 */
export function minstd(seed: number): { below(n: number): number } {
  let state = ((seed % modulus) + modulus) % modulus || 1;
  for (let drop = 0; drop < 3; drop++) state = next(state);
  return {
    below(n) {
      state = next(state);
      return Math.floor((state * n) / modulus);
    },
  };
}

/** One step of the generator. */
export function next(state: number): number {
  return (48271 * state) % modulus;
}
