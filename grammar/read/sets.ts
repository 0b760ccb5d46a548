import type { Problem } from '../finding.ts';
import { isWord, type Piece } from '../parser.ts';
import type { SetRef } from '../statement.ts';
import { Grafts } from '../tokens.ts';
import { largestNumber, readGrafts } from '../values/graft-set.ts';
import { type Verb, verbRow } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { nameOf } from './facts.ts';
import { badCount } from './figures.ts';

type SetPiece = Extract<Piece, { kind: 'set' }>;

/** A set of grafts, or a name; `undefined` where it can't be one, and then the problem says why. */
export function readSet(piece: SetPiece, verb: Verb, problems: Problem[]): SetRef | undefined {
  const { head, count } = piece;
  const span = { start: head.startOffset, end: piece.end };
  const { operand } = verbRow(verb);
  const counted = count ? Number(count.image.slice(1)) : undefined;
  if (count && counted !== undefined && (counted < 1 || counted > largestNumber)) {
    problems.push(badCount(count, counted));
    return undefined;
  }
  const more = {
    ...(piece.rest ? { rest: true as const } : {}),
    ...(count && counted !== undefined ? { count: { value: counted, span: spanOf(count) } } : {}),
  };
  if (head.tokenType === Grafts) {
    const read = readGrafts(head.image);
    const at = spanOf(head);
    if (operand === 'name') {
      problems.push({
        code: 'unreadable',
        severity: 'error',
        span: at,
        message: `\`${head.image}\` is a set of grafts; \`${verb}\` gives a name: \`${read.name}\`.`,
      });
      return undefined;
    }
    if (read.tooLarge) {
      problems.push({
        code: 'set-too-large',
        severity: 'error',
        span: at,
        message: `\`${head.image}\`: numbers up to 999,999 are read. Is a figure too many?`,
      });
      return undefined;
    }
    if (read.zero) {
      problems.push({
        code: 'unit-slip',
        severity: 'error',
        span: at,
        message: `\`${head.image}\`: numbers begin at 1.`,
      });
      return undefined;
    }
    const except = piece.except.map((token) => {
      const set = readGrafts(token.image);
      return { name: nameOf({ ...token, image: set.name }), numbers: set.numbers, span: spanOf(token) };
    });
    return {
      name: nameOf({ ...head, image: read.name }),
      span,
      numbers: read.numbers,
      ...more,
      ...(except.length > 0 ? { except } : {}),
    };
  }
  if (!isWord(head)) return undefined;
  if (/['’]/.test(head.image)) {
    problems.push({
      code: 'unreadable',
      severity: 'error',
      span: spanOf(head),
      message: `\`${head.image}\`: a name has letters, figures and hyphens only.`,
    });
    return undefined;
  }
  const except = piece.except.map((token) => {
    const set = readGrafts(token.image);
    return { name: nameOf({ ...token, image: set.name }), numbers: set.numbers, span: spanOf(token) };
  });
  return { name: nameOf(head), span, ...more, ...(except.length > 0 ? { except } : {}) };
}
