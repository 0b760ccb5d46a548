import type { IToken } from 'chevrotain';
import type { Problem } from '../finding.ts';
import { isWord } from '../lookahead.ts';
import type { Piece } from '../pieces.ts';
import type { Intervals, Name, SetRef } from '../statement.ts';
import { Grafts } from '../tokens.ts';
import { largestNumber, readGrafts } from '../values/graft-set.ts';
import { type Verb, verbRow } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { nameAt, nameOf } from './facts.ts';
import { badCount } from './figures.ts';

type SetPiece = Extract<Piece, { kind: 'set' }>;

/** A set of grafts, or a name; `undefined` where it can't be one, and then the problem says why. */
export function readSet(piece: SetPiece, verb: Verb, problems: Problem[]): SetRef | undefined {
  const { head, count } = piece;
  const counted = count ? Number(count.image.slice(1)) : undefined;
  if (count && counted !== undefined && (counted < 1 || counted > largestNumber)) {
    problems.push(badCount(count, counted));
    return undefined;
  }
  const named = readName(head, verb, problems);
  const except = piece.except ? readExcept(piece.except, named?.name, problems) : [];
  if (!named || !except) return undefined;
  const { name, numbers } = named;
  const span = { start: head.startOffset, end: piece.end };
  // spread here, each set would be an object of its own shape, and whatever asks many lines for a name slow
  const set: { -readonly [K in keyof SetRef]: SetRef[K] } = numbers ? { name, numbers, span } : { name, span };
  if (piece.rest) set.rest = true;
  if (count && counted !== undefined) set.count = { value: counted, span: spanOf(count) };
  if (except.length > 0) set.except = except;
  return set;
}

function readName(head: IToken, verb: Verb, problems: Problem[]): Pick<SetRef, 'name' | 'numbers'> | undefined {
  if (head.tokenType !== Grafts) {
    if (!isWord(head)) return undefined;
    if (!/['’]/.test(head.image)) return { name: nameOf(head) };
    problems.push(unreadable(head, `\`${head.image}\`: a name has letters, figures and hyphens only.`));
    return undefined;
  }
  if (verbRow(verb).operand === 'name') {
    const name = head.image.slice(0, head.image.indexOf('.'));
    problems.push(unreadable(head, `\`${head.image}\` is a set of grafts; \`${verb}\` gives a name: \`${name}\`.`));
    return undefined;
  }
  return readNumbers(head, problems);
}

/** `K26.1..12,14` within what can be meant. */
function readNumbers(token: IToken, problems: Problem[]): { name: Name; numbers: Intervals } | undefined {
  const read = readGrafts(token.image);
  if (read.tooLarge || read.zero) {
    problems.push({
      code: read.tooLarge ? 'set-too-large' : 'unit-slip',
      severity: 'error',
      span: spanOf(token),
      message: read.tooLarge
        ? `\`${token.image}\`: numbers up to 999,999 are read. Is a figure too many?`
        : `\`${token.image}\`: numbers begin at 1.`,
    });
    return undefined;
  }
  return { name: nameAt(read.name, token.startOffset), numbers: read.numbers };
}

function readExcept(
  { word, sets, figure }: NonNullable<SetPiece['except']>,
  of: Name | undefined,
  problems: Problem[],
): SetRef['except'] | undefined {
  if (sets.length === 0) {
    const of26 = of?.text ?? 'K26';
    const text = figure && /^\d+(?:\.\.\d+)?$/.test(figure.image) ? `${of26}.${figure.image}` : `${of26}.3`;
    problems.push({
      code: 'missing-value',
      severity: 'error',
      span: spanOf(figure ?? word),
      message: `After \`except\` come the grafts left out, with their batch: \`except ${text}\`.`,
      ...(figure && text.endsWith(figure.image)
        ? { mends: [{ title: `Write \`${text}\``.slice(0, 40), edits: [{ span: spanOf(figure), text }] }] }
        : {}),
    });
    return undefined;
  }
  const read = sets.map((token) => ({ token, set: readNumbers(token, problems) }));
  const found: NonNullable<SetRef['except']>[number][] = [];
  for (const { token, set } of read) {
    if (!set) return undefined;
    found.push({ name: set.name, numbers: set.numbers, span: spanOf(token) });
  }
  return found;
}

const unreadable = (token: IToken, message: string): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span: spanOf(token),
  message,
});
