import fc from 'fast-check';
import { anyLine } from '../support/lines.ts';
import { workLog } from '../support/logs.ts';
import { mutants } from './mutate.ts';
import { lineSeeds, logSeeds, sheetSeeds, stationSeeds } from './seeds.ts';
import { tryLine, tryLog, trySheet, tryStation } from './tried.ts';

/** Days before, amid and after what the logs tell. */
const days = fc.integer({ min: 18_800, max: 22_000 });
const bytesOf = (texts: fc.Arbitrary<string>) => texts.map((text) => Buffer.from(text));

/** So many inputs of each kind in a thousand. */
const kinds: Readonly<Record<string, { readonly share: number; readonly property: fc.IProperty<unknown> }>> = {
  'lines that were right': { share: 600, property: wide(fc.property(mutants(lineSeeds), tryLine)) },
  'lines nearly right, and free text': { share: 220, property: wide(fc.property(bytesOf(anyLine), tryLine)) },
  'logs that were right': { share: 90, property: wide(fc.property(mutants(logSeeds), days, tryLog)) },
  'work in any order': { share: 20, property: wide(fc.property(bytesOf(workLog), days, tryLog)) },
  spreadsheets: { share: 40, property: wide(fc.property(mutants(sheetSeeds), days, trySheet)) },
  'stations’ files': { share: 30, property: wide(fc.property(mutants(stationSeeds), tryStation)) },
};

/** Of properties of several kinds one table. */
function wide<T>(property: fc.IProperty<T>): fc.IProperty<unknown> {
  return property as unknown as fc.IProperty<unknown>;
}

/**
 * Gives every reader its share of so many inputs; returns how many each was given.
 * @param seed of a run that failed; else new ones, or those of `npm test`
 */
export function tryInputs(inputs: number, seed?: number): Record<string, number> {
  const tried: Record<string, number> = {};
  for (const [kind, { share, property }] of Object.entries(kinds)) {
    const numRuns = Math.ceil((inputs * share) / 1000);
    fc.assert(property, { numRuns, ...(seed === undefined ? {} : { seed }) });
    tried[kind] = numRuns;
  }
  return tried;
}
