import { readLine } from '#grammar/line.ts';
import type { Key } from '#grammar/vocabulary.ts';
import { type FactName, factRow } from './facts.ts';
import { unitOf } from './headers.ts';
import { oneLine } from './one-line.ts';
import { isBlank, readChoice } from './words.ts';

/** A cell longer than this goes to the remark, so that no line grows beyond what is read. */
const longestText = 120;

/** A cell as one fact of a graft's line, or `undefined` where it can't be read as one without guessing. */
export function factText(fact: FactName, cell: string, unit: string | undefined): string | undefined {
  if (cell.length > longestText) return undefined;
  const text = oneLine(cell);
  switch (factRow(fact).reading) {
    case 'figure':
      return figureText(fact as Key, text, unit);
    case 'choice': {
      const word = readChoice(fact, text);
      return judged(fact as Key, fact === 'match' ? `match ${word}` : word);
    }
    case 'text':
      return textFact(fact as Key, text);
    case 'hands':
      return handsText(text);
    default:
      return undefined;
  }
}

const yes = /^(?:yes|y|x|true|1|✓|✔)$/i;

/** `40%`, `4,5` in a column of mm, `3/16"`, `yes` for a wrap without its width. */
function figureText(key: Key, cell: string, unit: string | undefined): string | undefined {
  if (yes.test(cell) && (key === 'film' || key === 'bag')) return judged(key, key);
  const figures = spelledUnits(cell.replace(/(\d),(\d)/g, '$1.$2'));
  const tries = unit && !/\p{L}|%/u.test(figures.replace(/x/g, '')) ? [`${figures}${unit}`, figures] : [figures];
  return tries.map((figure) => judged(key, `${key} ${figure}`)).find((text) => text !== undefined);
}

/** Units in the notation's spelling: `3/16"`, `90 millimetres`, `1 year`. */
const spelledUnits = (cell: string): string =>
  cell.replace(/(\d)\s*("|”|″|\p{L}+\.?)/gu, (whole, digit: string, word: string) => {
    const unit = unitOf(word.replace(/\.$/, ''));
    return unit ? `${digit}${unit}` : whole;
  });

/** A thickness and a length become `scion 4mm x 90mm`; a length may stand alone. */
export function scionText(thick: string | undefined, long: string | undefined): string | undefined {
  if (long === undefined) return undefined;
  return judged('scion', thick === undefined ? `scion ${long}` : `scion ${thick} x ${long}`);
}

/** A length with its unit, as one half of a scion's size. */
export function lengthText(cell: string, unit: string | undefined): string | undefined {
  if (cell.length > longestText) return undefined;
  const figures = spelledUnits(cell.trim().replace(/(\d),(\d)/g, '$1.$2'));
  const text = unit && /^[\d.]+$/.test(figures) ? `${figures}${unit}` : figures;
  return /^[\d./ ]+(?:mm|cm|in)$/.test(text) ? text : undefined;
}

function textFact(key: Key, cell: string): string | undefined {
  const plain = /^\p{Ll}[\p{L}\p{N}-]*$/u.test(cell) ? judged(key, `${key} ${cell}`) : undefined;
  return plain ?? judged(key, `${key} ${quoted(cell)}`);
}

/** `mk`, `mk, jo`, `mk/jo`; a name of two words holds together: `Anna-Berg`. */
function handsText(cell: string): string | undefined {
  const hands = cell.split(/\s*(?:[,;/&+]|\band\b)\s*/).map((hand) => hand.replace(/\.$/, '').replace(/[\s.]+/g, '-'));
  if (hands.length > 6) return undefined;
  const text = `by ${hands.join(',')}`;
  return judged('by', text);
}

/** Hands whose spelling changed: their blanks became hyphens. */
export const handsChanged = (cell: string): boolean => /[^\s,;/&+][\s.]+[^\s,;/&+]/.test(cell.trim());

/** A text as a line has it, a quotation mark inside it doubled. */
export const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;

/** The fact, if the notation reads it as that one and nothing is wrong with it. */
function judged(key: Key, text: string): string | undefined {
  const { statement, problems } = readLine(`graft A.1  ${text}`);
  const [fact, more] = statement?.facts ?? [];
  const alone =
    statement?.sets.length === 1 &&
    !statement.sets[0]?.count &&
    !statement.taxa &&
    !statement.remark &&
    !statement.spare;
  return problems.length === 0 && alone && fact?.key === key && !more && !fact.lost ? text : undefined;
}

/** True where a yes-or-no cell says yes; `undefined` where it says neither. */
export function saysYes(cell: string): boolean | undefined {
  const word = cell.trim();
  if (yes.test(word)) return true;
  return /^(?:no|n|false|0)$/i.test(word) || isBlank(cell) ? false : undefined;
}
