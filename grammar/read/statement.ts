import type { IToken } from 'chevrotain';
import { expectedShare, expectedTarget } from '../expected.ts';
import type { Problem } from '../finding.ts';
import type { Piece } from '../parser.ts';
import { isFigure, isWord } from '../parser.ts';
import { end, type Sorted } from '../sort-words.ts';
import type { Amount, Fact, Name, Scope, SetRef, Statement, Word } from '../statement.ts';
import { Count, NumberWord, ScopeWord, Size, Times } from '../tokens.ts';
import { spelledInterval } from '../values/spelling.ts';
import { groups, type Key, keyRow, type Meaning, type Verb, verbRow } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { checkCode, nameOf, readFact, textOf } from './facts.ts';
import { badCount, readFigures } from './figures.ts';
import { readPractice } from './practice.ts';
import { readSet } from './sets.ts';
import { strayPiece } from './strays.ts';
import { readTaxa } from './taxa.ts';

type Draft = { -readonly [K in keyof Statement]: Statement[K] } & { sets: SetRef[]; facts: Fact[] };

/** What the pieces of a line say, with the verb's row of the vocabulary as judge. */
export function readStatement(sorted: Sorted, pieces: readonly Piece[], text: string, problems: Problem[]): Statement {
  const { verb } = sorted;
  const row = verbRow(verb);
  const draft: Draft = { verb, verbSpan: spanOf(sorted.verbToken), sets: [], facts: [] };
  const scopes: Scope[] = [];
  const genera: string[] = [];
  const spare: Name[] = [];
  let before: Piece | undefined;
  for (const piece of pieces) {
    switch (piece.kind) {
      case 'codes':
        draft.codes = piece.words.map((token): Word => ({ text: token.image, span: spanOf(token) }));
        for (const word of piece.words) checkCode(word, problems);
        break;
      case 'set': {
        const set = readSet(piece, verb, problems);
        if (!set) draft.idle = true;
        else if (row.operand === 'scopes') scopes.push({ kind: 'set', set, span: set.span });
        else if (draft.sets.length > 0 && row.operand !== 'sets') problems.push(secondTarget(verb, set));
        else if (set.count && row.operand === 'name') draft.sets.push(ownCount(draft, set, problems));
        else draft.sets.push(set);
        break;
      }
      case 'taxa': {
        const taxa = readTaxa(piece.taxa, genera, problems);
        if (!taxa) break;
        if (row.operand === 'scopes') scopes.push({ kind: 'plant', taxon: taxa.scion, span: taxa.span });
        else if (draft.taxa)
          problems.push({
            code: 'contradiction',
            severity: 'error',
            span: taxa.span,
            message: 'A second plant: a pair is written `scion / understock`.',
          });
        else draft.taxa = taxa;
        break;
      }
      case 'keyed': {
        const key = (piece.key.payload as Extract<Meaning, { class: 'key' }>).key;
        addFact(draft, readFact(key, piece.key, piece.value, verb, problems), problems);
        break;
      }
      case 'word':
        addFact(draft, wordFact(piece.token, piece.meaning), problems);
        break;
      case 'text': {
        const token = piece.tokens[0] as IToken;
        if (draft.remark)
          problems.push({
            code: 'contradiction',
            severity: 'error',
            span: spanOf(token),
            message: 'A second text on this line: put both into one.',
          });
        else draft.remark = { text: textOf(token, problems), span: spanOf(token) };
        break;
      }
      case 'value':
        if (piece.tokens[0]?.tokenType === ScopeWord) scopes.push(scopeOf(piece.tokens));
        else if (before?.kind !== 'stray') bareValue(draft, piece.tokens, problems, text);
        break;
      case 'stray': {
        const token = piece.tokens[0] as IToken;
        // `60x`: the figure before it has said all there is to say
        if (token.tokenType === Times && before?.kind === 'value') break;
        const behindPlace = before?.kind === 'keyed' && keyRow((before.key.payload as { key: Key }).key).of === 'place';
        if (
          isWord(token) &&
          /^\p{Ll}/u.test(token.image) &&
          (behindPlace || (before?.kind === 'stray' && spare.length > 0))
        )
          spare.push(nameOf(token));
        else problems.push(strayPiece(token, draft, row, genera));
      }
    }
    before = piece;
  }
  if (spare.length > 0) draft.spare = spare;
  if (row.operand === 'scopes') draft.scopes = scopes;
  if (verb === 'practice') readPractice(draft, problems);
  lookWhole(draft, problems);
  return draft;
}

/** A count behind a new name: the scions of a lot, and nothing that other things have. */
function ownCount(draft: Draft, { count, ...set }: SetRef, problems: Problem[]): SetRef {
  if (count && draft.verb === 'collect')
    addFact(draft, { key: 'count', value: numberOf(count.value), span: count.span, valueSpan: count.span }, problems);
  else if (count)
    problems.push({
      code: 'unreadable',
      severity: 'error',
      span: count.span,
      message: `A line with \`${draft.verb}\` counts nothing.`,
    });
  return { ...set, span: { start: set.span.start, end: set.name.span.end } };
}

const numberOf = (value: number): Amount => ({ kind: 'amount', measure: 'number', low: value, high: value });

function scopeOf(tokens: readonly IToken[]): Scope {
  const words = tokens.map((token) => (token.payload as { word: string }).word);
  const first = words[0] as string;
  const span = { start: (tokens[0] as IToken).startOffset, end: end(tokens.at(-1) as IToken) };
  if (first === 'any' || first === 'detached') return { kind: first, span };
  return { kind: (groups as readonly string[]).includes(first) ? 'group' : 'method', words, span };
}

function wordFact(token: IToken, meaning: Meaning): Fact {
  const span = spanOf(token);
  if (meaning.class === 'choice')
    return { key: meaning.key, value: { kind: 'word', word: meaning.word }, span, valueSpan: span };
  return { key: meaning.class === 'scope' ? 'method' : meaning.key, value: { kind: 'flag' }, span, valueSpan: span };
}

/** A key twice on a line contradicts itself, whatever the values. In `practice` a line may hold several keys, each once. */
function addFact(draft: Draft, fact: Fact, problems: Problem[]): void {
  const earlier = draft.facts.find((other) => other.key === fact.key);
  if (earlier && !keyRow(fact.key).repeats) {
    const what =
      fact.value.kind === 'word'
        ? `\`${(earlier.value as { word?: string }).word ?? fact.key}\` and \`${fact.value.word}\``
        : `\`${fact.key}\` twice`;
    problems.push({
      code: 'contradiction',
      severity: 'error',
      span: fact.span,
      message: `${what} on one line: one of them holds.`,
    });
    return;
  }
  draft.facts.push(fact);
}

function secondTarget(verb: Verb, set: SetRef): Problem {
  return {
    code: 'contradiction',
    severity: 'error',
    span: set.span,
    message: `A line with \`${verb}\` speaks of one ${verb === 'graft' ? 'set' : 'thing'}: give \`${set.name.text}\` a line of its own.`,
  };
}

/** A figure without a key: a share, an amount of feed, a count of the set before it. */
function bareValue(draft: Draft, tokens: readonly IToken[], problems: Problem[], text: string): void {
  const first = tokens[0] as IToken;
  const span = { start: first.startOffset, end: end(tokens.at(-1) as IToken) };
  const image = text.slice(span.start, span.end);
  const { verb } = draft;
  const row = verbRow(verb);
  if (first.tokenType === Count) {
    const value = Number(first.image.slice(1));
    const set = draft.sets[0];
    if (verb === 'collect') {
      const { amount, lost } = readFigures('count', 'count', first.image.slice(1), span, verb, problems);
      addFact(
        draft,
        { key: 'count', value: amount ?? { kind: 'none' }, span, valueSpan: span, ...(lost ? { lost } : {}) },
        problems,
      );
    } else if (set && draft.sets.length === 1 && !set.count) {
      if (value < 1 || value > 999_999) problems.push(badCount(first, value));
      else draft.sets[0] = { ...set, count: { value, span } };
    } else
      problems.push({
        code: 'unreadable',
        severity: 'error',
        span,
        message: `A count stands right behind its set: \`K26 ${first.image}\`.`,
      });
    return;
  }
  if (draft.sets.length === 0 && row.operand !== 'none' && row.operand !== 'scopes' && !row.bare) {
    problems.push({
      code: 'unreadable',
      severity: 'error',
      span,
      message: `Names start with a letter: \`B${image.replace(/\s/g, '')}\`.`,
    });
    draft.idle = true;
    return;
  }
  if (row.share && isFigure(first) && !draft.facts.some((fact) => fact.key === 'share')) {
    const { amount, lost } = readFigures('share', 'share', image, span, verb, problems);
    addFact(
      draft,
      { key: 'share', value: amount ?? { kind: 'none' }, span, valueSpan: span, ...(lost ? { lost } : {}) },
      problems,
    );
    return;
  }
  if (row.facts.includes('amount') && isFigure(first) && first.tokenType !== Size) {
    addFact(
      draft,
      { key: 'amount', value: { kind: 'text', text: spelledInterval(image) }, span, valueSpan: span },
      problems,
    );
    return;
  }
  const times = /^(\d+)\s*[x×]$/.exec(text.slice(span.start).match(/^\d+\s*[x×](?![\p{L}\p{N}])/u)?.[0] ?? '');
  problems.push({
    code: tokens.length > 1 && first.tokenType === NumberWord ? 'wrong-unit' : 'unreadable',
    severity: 'error',
    span,
    message: times
      ? `A count is written \`x${times[1]}\`.`
      : `\`${image}\`: a figure stands behind its word, such as \`cut 40%\`.`,
    ...(times
      ? {
          mends: [
            {
              title: `Make it x${times[1]}`,
              edits: [{ span: { start: span.start, end: span.start + times[0].length }, text: `x${times[1]}` }],
            },
          ],
        }
      : {}),
  });
}

/** What only the whole line tells: its target, its share, and facts that don't go together. */
function lookWhole(draft: Draft, problems: Problem[]): void {
  const row = verbRow(draft.verb);
  const missing = (message: string) => {
    problems.push({ code: 'missing-value', severity: 'error', span: draft.verbSpan, message });
    draft.idle = true;
  };
  const [set] = draft.sets;
  if (
    !set &&
    !draft.idle &&
    (row.operand === 'name' || row.operand === 'made' || (row.operand === 'sets' && !row.bare))
  )
    missing(expectedTarget(draft.verb));
  if (draft.verb === 'graft' && set && !set.numbers && !set.count)
    missing(
      `Which of \`${set.name.text}\` were made: \`graft ${set.name.text}.1..12\` or \`graft ${set.name.text} x12\`.`,
    );
  const share = draft.facts.find((fact) => fact.key === 'share');
  if (row.share === 'asked' && !share && !draft.idle) missing(expectedShare(draft.verb));
  if (row.share === 'asked' && share?.lost === 'unread') draft.idle = true;
  if (draft.verb === 'move' && !draft.idle && !draft.facts.some((fact) => fact.key === 'to' && !fact.lost))
    missing('After `move` come what and where to: `move S27 to frame`.');
  if (draft.verb === 'cover' && !draft.idle && draft.facts.every((fact) => fact.value.kind !== 'flag'))
    missing('After `cover` comes what it keeps off: `cover frame  frost-free`.');
  if (draft.verb === 'pair' && !draft.taxa?.stock)
    missing('After `pair` come scion and understock: `pair Pinus parviflora / Pinus thunbergii  good`.');
  if (draft.verb === 'accept' && !draft.codes)
    missing('After `accept` comes what is known: `accept cut-deep K26 "thin bark"`.');
  if (draft.verb === 'weather' && !draft.remark)
    missing('After `weather` comes the file in double quotes: `weather "station.csv"`.');
  lengthsTogether(draft, problems);
}

const high = (fact: Fact | undefined) =>
  fact && !fact.lost && fact.value.kind === 'amount' ? fact.value.high : undefined;

function lengthsTogether(draft: Draft, problems: Problem[]): void {
  if (draft.verb === 'practice') return;
  const of = (key: Key) => draft.facts.find((fact) => fact.key === key);
  const slip = (key: Key, message: string) => {
    const at = draft.facts.findIndex((fact) => fact.key === key);
    const fact = draft.facts[at] as Fact;
    draft.facts[at] = { ...fact, lost: 'slipped' };
    problems.push({ code: 'unit-slip', severity: 'error', span: fact.span, message });
  };
  const [long, short, cut, stock] = [high(of('long')), high(of('short')), of('cut'), high(of('stock'))];
  if (long !== undefined && short !== undefined && short > long)
    slip('short', `The short face, ${short} mm, is longer than the long one, ${long} mm: are they swapped?`);
  const deep = cut?.value.kind === 'amount' && cut.value.measure === 'length' ? high(cut) : undefined;
  if (deep !== undefined && stock !== undefined && deep >= stock)
    slip('cut', `Cut ${deep} mm into ${stock} mm: that is through the whole stock.`);
}
