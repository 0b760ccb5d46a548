import { encode } from 'uqr';
import type { Taxon } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Labelled } from '#server/engine/labelled.ts';
import type { LabelSize } from './label-sizes.ts';

export type CodeKind = 'text' | 'link' | 'none';

/** A code to draw: its modules by row with four of quiet zone around, and what it says. */
export interface LabelCode {
  readonly text: string;
  readonly modules: readonly (readonly boolean[])[];
}

/**
 * The code of a label, within the size that its modules can be read at. Plain text says as much as fits, the number
 * always whole and first; a link is the address that opens the graft’s line in the editor.
 *
 * @returns nothing where not even the number fits
 */
export function labelCode(label: Labelled, { code }: LabelSize, kind: CodeKind): LabelCode | undefined {
  if (!code || kind === 'none') return undefined;
  const texts = kind === 'link' ? [addressOf(label)] : textsOf(label);
  for (const ecc of code.levels)
    for (const text of texts) {
      const modules = drawn(text, ecc, code.version);
      if (modules) return { text, modules };
    }
  return undefined;
}

function drawn(text: string, ecc: 'L' | 'M' | 'Q', maxVersion: number): boolean[][] | undefined {
  try {
    return encode(text, { ecc, maxVersion, border: 4 }).data;
  } catch (error) {
    // the library's way to say that it doesn't fit
    if (error instanceof RangeError || /too long/i.test((error as Error).message)) return undefined;
    throw error;
  }
}

/** Of a tray the address of its first graft. */
const addressOf = ({ number }: Labelled) =>
  `vscode://graft-log.graftlog/graft/${encodeURIComponent(/^[^.]+(\.\d+)?/.exec(number)?.[0] ?? number)}`;

/** Longest first. */
function textsOf({ number, made, scion, stock }: Labelled): string[] {
  const head = made === undefined ? number : `${number} ${isoDay(made)}`;
  const plants = scion ? [scion.text, shortGenus(scion).text, ...cultivarOf(scion), latinOf(shortGenus(scion))] : [];
  const whole = stock ? [stock.text, shortGenus(stock).text].map((text) => `${plants[0] ?? ''} / ${text}`) : [];
  return [...[...whole, ...plants].map((text) => `${head} ${text.trim()}`), head, number];
}

const cultivarOf = ({ cultivar }: Taxon): string[] => (cultivar === undefined ? [] : [`'${cultivar}'`]);

/** What stands before the cultivar. */
export const latinOf = ({ text, cultivar }: Taxon): string => {
  const at = cultivar === undefined ? -1 : text.lastIndexOf(`'${cultivar}'`);
  return (at < 0 ? text : text.slice(0, at)).trim();
};

/** `P. thunbergii` */
export function shortGenus(taxon: Taxon): Taxon {
  const genus = `${[...taxon.genus][0]}.`;
  return taxon.epithet === undefined ? taxon : { ...taxon, genus, text: taxon.text.replace(taxon.genus, () => genus) };
}
