import type { IToken } from 'chevrotain';
import { codes } from '../codes.ts';
import { expectedAfter } from '../expected.ts';
import type { Problem, Span } from '../finding.ts';
import { isFigure, isWord } from '../parser.ts';
import { end } from '../sort-words.ts';
import type { Amount, Fact, Name, Value, YearPart } from '../statement.ts';
import { ListComma, Size, Slash, Text } from '../tokens.ts';
import { readQuantity, toAmount } from '../values/quantity.ts';
import { readYearDay, readYearPart } from '../values/year.ts';
import { coverFlags, events, type Key, keyRow, nearest, type ValueForm, type Verb, workWords } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { decimalComma, readFigures, slipped, wrongUnit } from './figures.ts';

/** A key with its value, or with what keeps the value from being read. */
export function readFact(key: Key, keyToken: IToken, tokens: readonly IToken[], verb: Verb, problems: Problem[]): Fact {
  const first = tokens[0];
  const last = tokens.at(-1);
  const span = { start: keyToken.startOffset, end: end(last ?? keyToken) };
  const valueSpan: Span = first && last ? { start: first.startOffset, end: end(last) } : spanOf(keyToken);
  const row = keyRow(key);
  const form = row.with?.[verb]?.value ?? (verb === 'practice' && key === 'scion' ? 'length' : row.value);
  const fact = (value: Value, lost?: Fact['lost']): Fact => ({
    key,
    value,
    span,
    valueSpan,
    ...(lost ? { lost } : {}),
  });
  const unread = (problem?: Problem): Fact => {
    problems.push(problem ?? { code: 'missing-value', severity: 'error', span, message: expectedAfter(key) });
    return fact({ kind: 'none' }, 'unread');
  };
  if (!first) return row.optional ? fact({ kind: 'flag' }) : unread();
  if (verb === 'practice' && first.image === 'none' && tokens.length === 1) return fact({ kind: 'none' });
  const image = tokens
    .map(
      (token, i) =>
        (i > 0 && tokens[i - 1] && end(tokens[i - 1] as IToken) < token.startOffset ? ' ' : '') + token.image,
    )
    .join('');
  if (form in figureForms && (isFigure(first) || form === 'stage')) {
    if (first.tokenType === Size) return unread(wrongUnit(key, image, valueSpan, ['mm'], undefined));
    const counted = form === 'count' ? image.replace(/^[×x]/, '') : image;
    const { amount, lost } = readFigures(key, form, counted, valueSpan, verb, problems);
    return fact(amount ?? { kind: 'none' }, lost);
  }
  switch (form) {
    case 'size':
      return isFigure(first) ? readSize(fact, image, valueSpan, verb, problems) : unread();
    case 'choice': {
      const word = first.image;
      if (row.choices?.includes(word)) return fact({ kind: 'word', word });
      const near = nearest(word, row.choices ?? []);
      return unread({
        code: 'unknown-word',
        severity: 'error',
        span: valueSpan,
        message: `\`${key}\` is one of ${(row.choices ?? []).map((choice) => `\`${choice}\``).join(', ')}${near ? `: is it \`${near}\`?` : '.'}`,
        ...(near ? { mends: [{ title: `Write \`${near}\``, edits: [{ span: valueSpan, text: near }] }] } : {}),
      });
    }
    case 'name':
      return isWord(first) ? fact({ kind: 'name', name: nameOf(first) }) : unread(noName(key, image, valueSpan));
    case 'names':
    case 'hands':
    case 'code': {
      const words = tokens.filter((token) => token.tokenType !== ListComma);
      if (!words.every(isWord)) return unread(noName(key, image, valueSpan));
      if (form === 'code') return codesFact(fact, words, problems);
      return fact({ kind: 'names', names: words.map(nameOf) });
    }
    case 'text':
      if (first.tokenType === Text) return fact({ kind: 'text', text: textOf(first, problems) });
      return isWord(first) && tokens.length === 1 ? fact({ kind: 'text', text: first.image }) : unread();
    case 'zone':
      return fact({ kind: 'text', text: tokens.filter((t) => t.tokenType !== Slash).length > 0 ? image : '' });
    case 'year': {
      const parts: YearPart[] = [];
      for (const token of tokens.filter((t) => t.tokenType !== ListComma)) {
        const part = readYearPart(token.image);
        if (!part) return unread(unreadYear(token));
        if ('fault' in part) return unread(noSuchDay(token));
        parts.push(part);
      }
      return fact({ kind: 'year', parts });
    }
    case 'yearday':
    case 'dates': {
      const [left = '', right, more] = first.image.split('..');
      const from = readYearDay(left);
      const to = right === undefined ? undefined : readYearDay(right);
      if (!from || more !== undefined || (right !== undefined && !to)) return unread(unreadYear(first));
      if ('fault' in from || (to && 'fault' in to)) return unread(noSuchDay(first));
      return fact({ kind: 'dates', from, ...(to && !('fault' in to) ? { to } : {}) });
    }
    case 'work':
      return wordList(fact, tokens, workWords, key === 'earliest' ? ['swell'] : [], unread);
    case 'events':
      return wordList(fact, tokens, [...events], [], unread);
    case 'covers':
      return wordList(fact, tokens, [...coverFlags, 'heated', 'mist', 'none'], [], unread);
    case 'task': {
      const minutes = tokens[1];
      if (!minutes) return unread();
      const { amount, lost } = readFigures(key, 'task', minutes.image, spanOf(minutes), verb, problems);
      return amount
        ? fact({ kind: 'task', work: first.image, minutes: amount.low ?? 0 })
        : fact({ kind: 'none' }, lost);
    }
    default:
      return unread();
  }
}

const figureForms = {
  length: 1,
  share: 1,
  depth: 1,
  temperature: 1,
  duration: 1,
  count: 1,
  number: 1,
  stage: 1,
  ratio: 1,
  dates: 1,
} satisfies Partial<Record<ValueForm, 1>>;

type MakeFact = (value: Value, lost?: Fact['lost']) => Fact;

function wordList(
  fact: MakeFact,
  tokens: readonly IToken[],
  known: readonly string[],
  more: readonly string[],
  unread: (problem?: Problem) => Fact,
): Fact {
  const words = tokens.filter((token) => token.tokenType !== ListComma);
  for (const word of words) {
    if (known.includes(word.image) || more.includes(word.image)) continue;
    const near = nearest(word.image, [...known, ...more]);
    return unread({
      code: 'unknown-word',
      severity: 'error',
      span: spanOf(word),
      message: `\`${word.image}\` is none of the words that fit here${near ? `: is it \`${near}\`?` : '.'}`,
      ...(near ? { mends: [{ title: `Write \`${near}\``, edits: [{ span: spanOf(word), text: near }] }] } : {}),
    });
  }
  return fact({ kind: 'words', words: words.map((word) => word.image) });
}

function codesFact(fact: MakeFact, words: readonly IToken[], problems: Problem[]): Fact {
  for (const word of words) checkCode(word, problems);
  return fact({ kind: 'words', words: words.map((word) => word.image).filter((word) => word in codes) });
}

/** A code that doesn't exist silences nothing, and the grower should know. */
export function checkCode(word: IToken, problems: Problem[]): void {
  if (word.image in codes) return;
  const near = nearest(word.image, Object.keys(codes));
  problems.push({
    code: 'unknown-word',
    severity: 'error',
    span: spanOf(word),
    message: `\`${word.image}\` is no finding’s code${near ? `: is it \`${near}\`?` : ', such as `cut-deep`.'}`,
    ...(near ? { mends: [{ title: `Write \`${near}\``, edits: [{ span: spanOf(word), text: near }] }] } : {}),
  });
}

function readSize(fact: MakeFact, image: string, span: Span, verb: Verb, problems: Problem[]): Fact {
  const parts = image.split(/[ \t\u00A0]*[×x][ \t\u00A0]*/);
  if (/\d,\d/.test(image)) problems.push(decimalComma(image, span));
  const units = [...image.matchAll(/mm|cm|in/g)].map((match) => match[0]);
  const unit = units.at(-1) ?? '';
  const ends: Amount[] = [];
  for (const part of parts) {
    // a unit at one end of a size serves both lengths
    const read = readQuantity(/mm|cm|in/.test(part) ? part : `${part}${unit}`);
    const amount = read ? toAmount(read, ['length'], false) : undefined;
    if (!amount || 'fault' in amount) {
      problems.push(wrongUnit('scion', image, span, ['mm', 'cm'], read));
      return fact({ kind: 'none' }, 'unread');
    }
    ends.push(amount.ok);
  }
  const along = ends.at(-1) as Amount;
  const across = ends.length > 1 ? ends[0] : undefined;
  const thick = across && [across.low, across.high].some((end) => end !== undefined && (end < 1 || end > 25));
  if (thick)
    problems.push({
      code: 'unit-slip',
      severity: 'error',
      span,
      message: `\`scion\` ${image}: 1 to 25\u00A0mm thick is plausible; is a figure or a unit slipped?`,
    });
  const lost = thick || slipped('scion', verb, along, image, span, problems);
  return fact({ kind: 'size', ...(across ? { across } : {}), along }, lost ? 'slipped' : undefined);
}

export function nameOf(token: IToken): Name {
  const text = token.image.normalize('NFC');
  return { text, key: text.toLowerCase(), span: spanOf(token) };
}

/** A text without its quotes; one that is not closed ends with the line. */
export function textOf(token: IToken, problems: Problem[]): string {
  const curly = token.image.startsWith('“');
  const closed = token.image.length > 1 && (curly ? token.image.endsWith('”') : /^"(?:[^"]|"")*"$/.test(token.image));
  if (!closed)
    problems.push({
      code: 'unreadable',
      severity: 'error',
      span: spanOf(token),
      message: 'This text is not closed: a quotation mark belongs behind it.',
      mends: [
        { title: 'Close the text', edits: [{ span: { start: end(token), end: end(token) }, text: curly ? '”' : '"' }] },
      ],
    });
  const inner = token.image.slice(1, closed ? -1 : undefined);
  return (curly ? inner : inner.replaceAll('""', '"')).trim();
}

const noName = (key: Key, image: string, span: Span): Problem => ({
  code: /^\d/.test(image) ? 'unreadable' : 'missing-value',
  severity: 'error',
  span,
  message: /^\d/.test(image) ? `Names start with a letter: \`B${image}\`.` : expectedAfter(key),
});

const noSuchDay = (token: IToken): Problem => ({
  code: 'bad-date',
  severity: 'error',
  span: spanOf(token),
  message: `${token.image}: no year has such a day.`,
});

function unreadYear(token: IToken): Problem {
  const hyphened = /^([a-z]{3})-([a-z]{3})$/.exec(token.image);
  const turned = hyphened ? `${hyphened[1]}..${hyphened[2]}` : undefined;
  return {
    code: hyphened ? 'unknown-word' : 'unreadable',
    severity: 'error',
    span: spanOf(token),
    message: turned
      ? `\`${token.image}\`: a span of the year is written \`${turned}\`.`
      : `\`${token.image}\`: days of the year are \`mar-01..may-15\`, months \`jul..mar\`.`,
    ...(turned && readYearPart(turned)
      ? { mends: [{ title: `Make it ${turned}`, edits: [{ span: spanOf(token), text: turned }] }] }
      : {}),
  };
}
