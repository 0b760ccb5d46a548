import type { IToken } from 'chevrotain';
import type { Problem, Span } from '../finding.ts';
import { isFigure } from '../lookahead.ts';
import type { Piece } from '../pieces.ts';
import { end } from '../sort-words.ts';
import type { Fact } from '../statement.ts';
import { Count, NumberWord, Size, Times } from '../tokens.ts';
import { largestNumber, readGrafts } from '../values/graft-set.ts';
import { spelledInterval } from '../values/spelling.ts';
import { type Key, verbRow } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { addFact, type Draft } from './draft.ts';
import { badCount, readFigures } from './figures.ts';
import { writing } from './mends.ts';
import { factAt } from './placed.ts';
import { readSize } from './size.ts';

/**
 * A figure without a key: a count of the set before it, a share, an amount, or the scion's size.
 *
 * @returns whether figures of its own may follow, though it was no such figure
 */
export function bareValue(draft: Draft, tokens: readonly IToken[], problems: Problem[], text: string): boolean {
  const first = tokens[0] as IToken;
  const span = { start: first.startOffset, end: end(tokens.at(-1) as IToken) };
  const image = text.slice(span.start, span.end);
  const { verb } = draft;
  const row = verbRow(verb);
  const told = (key: Key) => draft.facts.some((fact) => fact.key === key);
  const apart = /\d(?:\.\.|[-–,])\d/.test(image) ? numbersApart(draft, image, span) : undefined;
  if (first.tokenType === Count) count(draft, first, problems);
  else if (apart && (!row.share || moreFigures.test(text.slice(span.end)))) {
    // a range can be read one way only, so the line holds for what it names
    const numbers = readGrafts(`${draft.sets.at(-1)?.name.text}.${image}`).numbers;
    const set = draft.sets.pop();
    if (set) draft.sets.push({ ...set, numbers, span: { start: set.span.start, end: span.end } });
    problems.push(apart);
    return true;
  } else if (apart && row.share && !told('share')) {
    problems.push(numbersOrShare(apart, image, span));
    draft.idle = true;
  } else if (row.share && !told('share')) {
    const { amount, lost } = readFigures('share', 'share', image, span, verb, problems);
    addFact(draft, bareFact('share', amount ?? { kind: 'none' }, span, lost), problems);
  } else if (row.facts.includes('amount') && first.tokenType !== Size) {
    // an amount has a unit of the notation, or is a share
    if (tokens.length > 1 || /^[-−+\d.,– ]*$/.test(image)) problems.push(noAmount(image, span));
    else addFact(draft, bareFact('amount', { kind: 'text', text: spelledInterval(image) }, span), problems);
  } else if (row.facts.includes('scion') && first.tokenType === Size && !told('scion')) {
    const fact = (value: Fact['value'], lost?: Fact['lost']) => bareFact('scion', value, span, lost);
    addFact(draft, readSize(fact, image, span, verb, problems), problems);
  } else problems.push(figureAlone(draft, tokens, image, span, text));
  return false;
}

/** The share stands behind, so that what came before it is none. */
const moreFigures = /\d\s?%|\d\/\d/;

/** `open K27 1..10`: numbers of grafts, or a share without its sign. */
const numbersOrShare = (apart: Problem, image: string, span: Span): Problem => ({
  ...apart,
  message: `${apart.message.slice(0, -1)}; a share has its sign: \`${image}%\`.`,
  mends: [...(apart.mends ?? []), writing(`${image}%`, span)],
});

const bareFact = (key: Key, value: Fact['value'], span: Span, lost?: Fact['lost']): Fact =>
  factAt(key, value, span, span.start, lost);

function count(draft: Draft, token: IToken, problems: Problem[]): void {
  const { verb } = draft;
  const span = spanOf(token);
  const value = Number(token.image.slice(1));
  const [set] = draft.sets;
  if (value < 1 || value > largestNumber) problems.push(badCount(token, value));
  else if (verb === 'collect')
    addFact(draft, bareFact('count', { kind: 'amount', measure: 'number', low: value, high: value }, span), problems);
  else if (countsNothing(draft)) problems.push(noCount(draft, span));
  else if (set && draft.sets.length === 1 && !set.count) draft.sets[0] = { ...set, count: { value, span } };
  else
    problems.push({
      code: set?.count && draft.sets.length === 1 ? 'contradiction' : 'unreadable',
      severity: 'error',
      span,
      message:
        set?.count && draft.sets.length === 1
          ? `\`x${set.count.value}\` and \`${token.image}\` on one line: one of them holds.`
          : `A count stands right behind its set: \`K26 ${token.image}\`.`,
    });
}

export const countsNothing = ({ verb }: Draft): boolean => {
  const { operand } = verbRow(verb);
  return operand === 'none' || operand === 'scopes' || (operand === 'name' && verb !== 'collect');
};

export const noCount = ({ verb }: Draft, span: Span): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span,
  message: `A line with \`${verb}\` counts nothing.`,
});

/** `x 60`: a count is written in one piece. */
export function spacedCount(tokens: readonly IToken[], after: Piece | undefined): Problem | undefined {
  const [token] = tokens;
  const number = after?.kind === 'value' ? after.tokens[0] : undefined;
  if (token?.tokenType !== Times || number?.tokenType !== NumberWord || !/^\d+$/.test(number.image)) return undefined;
  return countAs(number.image, { start: token.startOffset, end: end(number) });
}

const countAs = (figure: string, span: Span): Problem => ({
  code: 'unreadable',
  severity: 'error',
  span,
  message: `A count is written \`x${figure}\`.`,
  mends: [{ title: `Make it x${figure}`, edits: [{ span, text: `x${figure}` }] }],
});

/** `2oz`: no unit of the notation; the label's own words go into a text. */
const noAmount = (image: string, span: Span): Problem => ({
  code: 'wrong-unit',
  severity: 'error',
  span,
  message: `${/\p{L}/u.test(image) ? `\`${image}\`: no unit of the notation.` : `${image} what?`} Write it as a text: \`"${image}"\`.`,
  mends: [{ title: `Write "${image}"`.slice(0, 40), edits: [{ span, text: `"${image}"` }] }],
});

/** `graft K27 1-10`: numbers with a blank where the point of their set belongs; one alone may be a count, too. */
function numbersApart({ sets, facts }: Draft, image: string, span: Span): Problem | undefined {
  const set = sets.at(-1);
  const whole = set && !set.numbers && !set.rest && !set.except && !set.count && facts.length === 0;
  // places and trees have no numbers: a batch is told by the figure in its name
  if (!whole || !/\d/.test(set.name.text) || !/^\d+(?:(?:\.\.|[-–,])\d+)*$/.test(image)) return undefined;
  const { text } = set.name;
  const turned = `${text}.${image.replace(/[-–]/g, '..')}`;
  const counted = /^\d+$/.test(image) ? `${text} x${image}` : undefined;
  const both = { start: set.span.start, end: span.end };
  return {
    code: 'unreadable',
    severity: 'error',
    span,
    message: counted
      ? `Graft number ${image} is \`${turned}\`; so many of them is \`${counted}\`.`
      : `Numbers stand right behind the name and a point: \`${turned}\`.`,
    mends: [turned, ...(counted ? [counted] : [])].map((said) => writing(said, both)),
  };
}

function figureAlone(draft: Draft, tokens: readonly IToken[], image: string, span: Span, text: string): Problem {
  const [first] = tokens;
  const turned = /^(\d+)\s*[x×](?![\p{L}\p{N}])/u.exec(text.slice(span.start));
  if (turned?.[1] && isFigure(first) && first?.tokenType === NumberWord)
    return countAs(turned[1], { start: span.start, end: span.start + turned[0].length });
  const apart = numbersApart(draft, image, span);
  if (apart) return apart;
  return {
    code: tokens.length > 1 && first?.tokenType === NumberWord ? 'wrong-unit' : 'unreadable',
    severity: 'error',
    span,
    message: `\`${image}\`: a figure stands behind its word, such as \`cut 40%\`.`,
  };
}
