import type { IToken } from 'chevrotain';
import { allCodes, isCode } from '../codes.ts';
import { expectedAfter } from '../expected.ts';
import type { Problem, Span } from '../finding.ts';
import { isFigure, isWord } from '../lookahead.ts';
import { end, wordOf } from '../sort-words.ts';
import type { Fact, Name, Value, YearPart } from '../statement.ts';
import { ListComma, Size, Text } from '../tokens.ts';
import { nearYearDays, readYearDay, readYearPart } from '../values/year.ts';
import {
  allVerbs,
  coverFlags,
  events,
  type Key,
  keyRow,
  type Meaning,
  nearest,
  type ValueForm,
  type Verb,
  workWords,
} from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { readFigures } from './figures.ts';
import { writing } from './mends.ts';
import { factAt, nameFrom } from './placed.ts';
import { remembered } from './remembered.ts';
import { type MakeFact, oneLength, readSize } from './size.ts';

/** A key with its value, or with what keeps the value from being read. */
export function readFact(key: Key, keyToken: IToken, tokens: readonly IToken[], verb: Verb, problems: Problem[]): Fact {
  const first = tokens[0];
  const last = tokens.at(-1);
  const span = { start: keyToken.startOffset, end: end(last ?? keyToken) };
  const valueSpan: Span = first && last ? { start: first.startOffset, end: end(last) } : spanOf(keyToken);
  const row = keyRow(key);
  const form = row.with?.[verb]?.value ?? (verb === 'practice' && key === 'scion' ? 'length' : row.value);
  const fact = (value: Value, lost?: Fact['lost']): Fact => factAt(key, value, span, valueSpan.start, lost);
  const unread = (problem?: Problem): Fact => {
    problems.push(problem ?? { code: 'missing-value', severity: 'error', span, message: expectedAfter(key, verb) });
    return fact({ kind: 'none' }, 'unread');
  };
  if (!first) return row.optional && verb !== 'practice' ? fact(flag) : unread();
  if (verb === 'practice' && first.image === 'none' && tokens.length === 1) return fact({ kind: 'none' });
  const image = tokens.length === 1 ? first.image : imageOf(tokens);
  if (form in figureForms && (isFigure(first) || form === 'stage')) {
    if (first.tokenType === Size) return unread(oneLength(key, image, valueSpan));
    const counted = form === 'count' ? image.replace(/^[×x]/, '') : image;
    const { amount, lost } = readFigures(key, form, counted, valueSpan, verb, problems);
    return fact(amount ?? { kind: 'none' }, lost);
  }
  switch (form) {
    case 'size':
      return isFigure(first) ? readSize(fact, image, valueSpan, verb, problems) : unread();
    case 'choice': {
      const meaning = first.payload as Meaning | undefined;
      const word = meaning?.class === 'choice' && meaning.key === key ? meaning.word : wordOf(first);
      if (meaning?.class === 'choice' && meaning.key === key) return fact(meaning.value);
      if (row.choices?.includes(word)) return fact({ kind: 'word', word });
      const near = nearest(word, row.choices ?? []);
      return unread({
        code: 'unknown-word',
        severity: 'error',
        span: valueSpan,
        message: `\`${key}\` is one of ${(row.choices ?? []).map((choice) => `\`${choice}\``).join(', ')}${near ? `: is it \`${near}\`?` : '.'}`,
        ...(near ? { mends: [writing(near, valueSpan)] } : {}),
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
      if (key === 'tz' && !isTimeZone(image)) return unread(noTimeZone(image, valueSpan));
      return fact({ kind: 'text', text: image });
    case 'year': {
      const parts: YearPart[] = [];
      for (const token of isFigure(first) ? [first] : tokens.filter((t) => t.tokenType !== ListComma)) {
        const part = readYearPart(token.image);
        if (!part) return unread(unreadYear(image, token, valueSpan));
        if ('fault' in part) return unread(noSuchDay(token));
        parts.push(part);
      }
      return fact({ kind: 'year', parts });
    }
    case 'yearday':
    case 'dates': {
      const part = form === 'dates' ? readYearPart(image) : undefined;
      if (part && 'from' in part && image.includes('..')) return fact({ kind: 'dates', ...part });
      const from = tokens.length === 1 ? readYearDay(image) : undefined;
      if (!from && !(part && 'fault' in part)) return unread(unreadYear(image, first, valueSpan));
      if (!from || 'fault' in from) return unread(noSuchDay(first));
      return fact({ kind: 'dates', from });
    }
    case 'work':
      return wordList(fact, tokens, workWords, key === 'earliest' ? ['swell'] : [], unread);
    case 'events':
      return wordList(fact, tokens, [...events], [], unread);
    case 'covers':
      return wordList(fact, tokens, [...coverFlags, 'heated', 'mist', 'none'], [], unread);
    case 'task': {
      const work = wordOf(first);
      if (!isTask(work)) return unread(unknownOf(first, tasks));
      if (!tokens[1]) return unread();
      // `1mn`: a figure and the letters right behind it
      const minutes = tokens.slice(1).map((token) => token.image);
      const minutesSpan = { start: tokens[1].startOffset, end: valueSpan.end };
      const { amount, lost } = readFigures(key, 'task', minutes.join(''), minutesSpan, verb, problems);
      return amount ? fact({ kind: 'task', work, minutes: amount.low ?? 0 }) : fact({ kind: 'none' }, lost);
    }
    default:
      return unread();
  }
}

/** One value serves every flag. */
export const flag: Value = { kind: 'flag' };

function imageOf(tokens: readonly IToken[]): string {
  let image = '';
  tokens.forEach((token, i) => {
    const before = tokens[i - 1];
    image += (before && end(before) < token.startOffset ? ' ' : '') + token.image;
  });
  return image;
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

function wordList(
  fact: MakeFact,
  tokens: readonly IToken[],
  known: readonly string[],
  more: readonly string[],
  unread: (problem?: Problem) => Fact,
): Fact {
  const words = tokens.filter((token) => token.tokenType !== ListComma);
  for (const word of words) {
    if (!known.includes(wordOf(word)) && !more.includes(wordOf(word)))
      return unread(unknownOf(word, [...known, ...more]));
  }
  return fact({ kind: 'words', words: words.map(wordOf) });
}

const tasks: readonly string[] = [...new Set([...allVerbs, ...workWords])];
const isTask = (word: string) => tasks.includes(word);

function unknownOf(word: IToken, known: readonly string[]): Problem {
  const near = nearest(wordOf(word), known);
  return {
    code: 'unknown-word',
    severity: 'error',
    span: spanOf(word),
    message: `\`${word.image}\` is none of the words that fit here${near ? `: is it \`${near}\`?` : '.'}`,
    ...(near ? { mends: [writing(near, spanOf(word))] } : {}),
  };
}

function codesFact(fact: MakeFact, words: readonly IToken[], problems: Problem[]): Fact {
  for (const word of words) checkCode(word, problems);
  return fact({ kind: 'words', words: words.map((word) => word.image).filter(isCode) });
}

/** A code that doesn't exist silences nothing, and the grower should know. */
export function checkCode(word: IToken, problems: Problem[]): void {
  if (isCode(word.image)) return;
  const near = nearest(word.image, allCodes);
  problems.push({
    code: 'unknown-word',
    severity: 'error',
    span: spanOf(word),
    message: `\`${word.image}\` is no finding’s code${near ? `: is it \`${near}\`?` : ', such as `cut-deep`.'}`,
    ...(near ? { mends: [writing(near, spanOf(word))] } : {}),
  });
}

export const nameOf = (token: IToken): Name => nameAt(token.image, token.startOffset);

/** A name as it stands on the line, from `start` on. */
export function nameAt(image: string, start: number): Name {
  const { text, key } = spellings.get(image) ?? spelling(image);
  return nameFrom(text, key, start, start + image.length);
}

const spellings = remembered<{ readonly text: string; readonly key: string }>(20_000);

function spelling(image: string): { readonly text: string; readonly key: string } {
  const text = image.normalize('NFC');
  return spellings.keep(image, { text, key: text.toLowerCase() });
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

function noSuchDay(token: IToken): Problem {
  const near = nearYearDays(token.image);
  return {
    code: 'bad-date',
    severity: 'error',
    span: spanOf(token),
    message: `${token.image}: no year has such a day.`,
    ...(near ? { mends: [{ title: `Make it ${near}`, edits: [{ span: spanOf(token), text: near }] }] } : {}),
  };
}

function unreadYear(image: string, token: IToken, whole: Span): Problem {
  const hyphened = /^([a-z]{3})-([a-z]{3})$/.exec(token.image);
  const small = image.toLowerCase();
  const turned = hyphened ? `${hyphened[1]}..${hyphened[2]}` : small !== image ? small : undefined;
  const fits = turned !== undefined && (readYearPart(turned) ?? readYearDay(turned)) !== undefined;
  if (!hyphened && 'fault' in (readYearDay(token.image) ?? {})) return noSuchDay(token);
  return {
    code: hyphened ? 'unknown-word' : 'unreadable',
    severity: 'error',
    span: isFigure(token) ? whole : spanOf(token),
    message: fits
      ? `\`${token.image}\` is written \`${turned}\`: a span with two dots, months in small letters.`
      : `\`${isFigure(token) ? image : token.image}\`: days of the year are \`mar-01..may-15\`, months \`jul..mar\`.`,
    ...(fits ? { mends: [{ title: `Make it ${turned}`, edits: [{ span: spanOf(token), text: turned }] }] } : {}),
  };
}

let zoneSeen: { readonly name: string; readonly known: boolean } | undefined;

/** Asking the platform costs as much as thirty lines, and a log has one zone. */
function isTimeZone(name: string): boolean {
  if (zoneSeen?.name === name) return zoneSeen.known;
  let known = true;
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
  } catch {
    known = false;
  }
  zoneSeen = { name, known };
  return known;
}

const noTimeZone = (image: string, span: Span): Problem => ({
  code: 'unknown-word',
  severity: 'error',
  span,
  message: `\`${image}\` is no time zone: they go by continent and city, such as \`Europe/Berlin\`.`,
});
