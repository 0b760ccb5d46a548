import { minstd } from './minstd.ts';

/**
 * A fair order of ways: in every run each way comes equally often, spare places are drawn without repeating a way, and
 * the run is shuffled.
 *
 * @param seed whole number; the same seed gives the same order
 * @param places how many to put in order; the last run may be short
 * @param ways how many ways there are
 * @param run places in a run
 * @returns for each place the index of its way, 0..ways-1
 *
 * Source: permuted blocks, Pocock 1983, Clinical Trials (from memory); shuffle of Fisher & Yates 1938.
 */
export function benchOrder(seed: number, places: number, ways: number, run: number): number[] {
  const random = minstd(seed);
  const order: number[] = [];
  while (order.length < places) order.push(...oneRun(random, Math.min(run, places - order.length), ways));
  return order;
}

function oneRun(random: { below(n: number): number }, places: number, ways: number): number[] {
  const run: number[] = [];
  const equal = Math.floor(places / ways);
  for (let place = 0; place < equal * ways; place++) run.push(place % ways);
  const spare = Array.from({ length: ways }, (_, way) => way);
  while (run.length < places) run.push(...spare.splice(random.below(spare.length), 1));
  for (let last = places; last > 1; last--) {
    const drawn = random.below(last);
    const kept = run[last - 1];
    run[last - 1] = run[drawn] as number;
    run[drawn] = kept as number;
  }
  return run;
}
