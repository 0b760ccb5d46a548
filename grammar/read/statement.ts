import type { IToken } from 'chevrotain';
import { isCode } from '../codes.ts';
import type { Problem } from '../finding.ts';
import { isWord } from '../lookahead.ts';
import type { Piece } from '../pieces.ts';
import { end, type Sorted } from '../sort-words.ts';
import type { Amount, Fact, Name, Scope, SetRef, Statement, Taxa, Word } from '../statement.ts';
import { Cultivar, ListComma, ScopeWord, Slash, Word as WordToken } from '../tokens.ts';
import { groups, type Key, keyRow, type Meaning, type Verb, verbRow } from '../vocabulary.ts';
import { bareValue, countsNothing, noCount, spacedCount } from './bare.ts';
import { spanOf } from './dates.ts';
import { addFact, type Draft } from './draft.ts';
import { checkCode, flag, nameOf, readFact, textOf } from './facts.ts';
import { writing } from './mends.ts';
import { factAt } from './placed.ts';
import { readPractice } from './practice.ts';
import { readSet } from './sets.ts';
import { strayPiece } from './strays.ts';
import { readTaxa } from './taxa.ts';
import { lookWhole } from './whole.ts';

/** What the pieces of a line say, with the verb's row of the vocabulary as judge. */
export function readStatement(sorted: Sorted, pieces: readonly Piece[], text: string, problems: Problem[]): Statement {
  const { verb } = sorted;
  const row = verbRow(verb);
  const draft: Draft = { verb, verbSpan: spanOf(sorted.verbToken), sets: [], facts: [] };
  const scopes: Scope[] = [];
  const genera: string[] = [];
  const spare: Name[] = [];
  /** A piece that could not be read: what follows it directly is not looked at twice. */
  let spoiled = false;
  let strays = 0;
  if (verb === 'weather' && unquotedPath(draft, pieces, text, problems)) return draft;
  for (let i = 0; i < pieces.length; i++) {
    const piece = pieces[i] as Piece;
    const before = pieces[i - 1];
    const known = problems.length;
    switch (piece.kind) {
      case 'codes':
        draft.codes = piece.words.map((token): Word => ({ text: token.image, span: spanOf(token) }));
        for (const word of piece.words) checkCode(word, problems);
        // a scope written first would be taken for a code, and the codes for a scope
        if (!draft.codes.some((code) => isCode(code.text))) draft.idle = true;
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
      case 'bad-name':
        problems.push(badName(piece.tokens, text));
        draft.idle = true;
        break;
      case 'taxa': {
        const taxa = readTaxa(piece.taxa, genera, problems);
        if (!taxa) break;
        if (row.operand === 'scopes') scopes.push({ kind: 'plant', taxon: taxa.scion, span: taxa.span });
        else if (!draft.taxa) draft.taxa = taxa;
        else if (!spoiled) problems.push(secondPlant(draft.taxa, taxa, text));
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
        const plant = row.taxa ? textAsPlant(token, before, pieces[i + 1], draft) : undefined;
        if (plant) {
          problems.push(plant);
          spoiled = true;
          continue;
        }
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
        else if (!spoiled && bareValue(draft, piece.tokens, problems, text)) continue;
        break;
      case 'stray': {
        const token = piece.tokens[0] as IToken;
        // a comma between facts says nothing, with or without a blank behind it
        if (token.tokenType === ListComma) continue;
        const behindPlace = before?.kind === 'keyed' && keyRow((before.key.payload as { key: Key }).key).of === 'place';
        const restOfName = behindPlace || (before?.kind === 'stray' && spare.length > 0);
        if (restOfName && token.tokenType === WordToken && piece.tokens.length === 1 && /^\p{Ll}/u.test(token.image)) {
          spare.push(nameOf(token));
          break;
        }
        strays++;
        const problem = spacedCount(piece.tokens, pieces[i + 1]) ?? strayPiece(piece.tokens, verb, genera);
        // right behind what could not be read only a near word is worth saying
        const said = spoiled || (token.tokenType === Slash && pieces[i + 1]?.kind === 'text');
        if (!said || (problem.code === 'unknown-word' && problem.mends)) problems.push(problem);
        if (problem.code === 'unreadable' && isWord(token)) draft.idle = true;
        spoiled = true;
        continue;
      }
    }
    spoiled = piece.kind === 'value' && (spoiled || problems.length > known);
  }
  if (spare.length > 0) draft.spare = spare;
  if (row.operand === 'scopes') {
    draft.scopes = scopes;
    // a scope that can't be read would leave the line holding for more than was meant
    if (problems.some(({ code }) => code === 'unreadable')) draft.idle = true;
  }
  if (verb === 'practice') readPractice(draft, text, problems);
  restOfOne(draft, problems);
  lookWhole(draft, text, problems, strays);
  // arrays grown by pushing keep room for sixteen more
  draft.sets = draft.sets.slice();
  draft.facts = draft.facts.slice();
  return draft;
}

/** `fail J23 O23 rest`: the rest is that of the last batch alone, and all of the first would be lost. */
function restOfOne(draft: Draft, problems: Problem[]): void {
  const last = draft.sets.at(-1);
  const before = draft.sets.slice(0, -1);
  const plain = ({ numbers, rest, except, count }: SetRef) => !numbers && !rest && !except && !count;
  if (!last?.rest || last.except || before.length === 0 || !before.every(plain)) return;
  // where a place or a lot may stand, the first may be one of these, which have no rest
  if (verbRow(draft.verb).acts?.some((kind) => kind === 'place' || kind === 'lot')) return;
  const span = { start: draft.sets[0]?.span.start ?? last.span.start, end: last.span.end };
  const each = draft.sets.map(({ name }) => `${name.text} rest`).join(' ');
  problems.push({
    code: 'unreadable',
    severity: 'error',
    span,
    message: `\`rest\` is that of \`${last.name.text}\` alone. Of each batch it is \`${each}\`; all of \`${before.map(({ name }) => name.text).join(' ')}\` stands on a line of its own.`,
    mends: [writing(each, span)],
  });
  draft.idle = true;
}

/** A count behind a new name: the scions of a lot, and nothing that other things have. */
function ownCount(draft: Draft, { count, ...set }: SetRef, problems: Problem[]): SetRef {
  if (count && draft.verb === 'collect') addFact(draft, factAt('count', numberOf(count.value), count.span), problems);
  else if (count && countsNothing(draft)) problems.push(noCount(draft, count.span));
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
  if (meaning.class === 'choice') return factAt(meaning.key, meaning.value, span);
  return factAt(meaning.class === 'scope' ? 'method' : meaning.key, flag, span);
}

/** `weather station.csv`: the path without its quotes, which the notation can't take apart. */
function unquotedPath(draft: Draft, pieces: readonly Piece[], text: string, problems: Problem[]): boolean {
  const path = /^\s+(?!in\b|offset\b)([^\s"“#]+)/.exec(text.slice(draft.verbSpan.end));
  if (!path?.[1] || pieces.some((piece) => piece.kind === 'text')) return false;
  const end = draft.verbSpan.end + path[0].length;
  const span = { start: end - path[1].length, end };
  problems.push({
    code: 'missing-value',
    severity: 'error',
    span,
    message: `A path stands in double quotes: \`weather "${path[1]}"\`.`,
    mends: [writing(`"${path[1]}"`, span)],
  });
  draft.idle = true;
  return true;
}

function badName(tokens: readonly IToken[], text: string): Problem {
  const span = { start: (tokens[0] as IToken).startOffset, end: end(tokens.at(-1) as IToken) };
  const image = text.slice(span.start, span.end);
  return { code: 'unreadable', severity: 'error', span, message: `Names start with a letter: \`B${image}\`.` };
}

/** `"Hoopsii"` where a cultivar is due: beside the slash of a pair, or right behind a plant that has none. */
function textAsPlant(
  token: IToken,
  before: Piece | undefined,
  after: Piece | undefined,
  draft: Draft,
): Problem | undefined {
  const slash = (piece: Piece | undefined) => piece?.kind === 'stray' && piece.tokens[0]?.tokenType === Slash;
  const named = /^["“]\p{Lu}[^\s"”]*(?:[ -]\p{Lu}[^\s"”]*){0,3}["”]$/u.test(token.image);
  const lastOfPair = before?.kind === 'taxa' && before.taxa.at(-1)?.tokens.at(-1)?.tokenType !== Cultivar;
  const bare = before?.kind === 'set' && (draft.verb === 'tree' || draft.verb === 'batch');
  const rule = draft.verb === 'practice' || draft.verb === 'accept';
  if (!slash(before) && !slash(after) && !(named && !rule && (lastOfPair || bare))) return undefined;
  const cultivar = `'${token.image.slice(1).replace(/["”]$/, '')}'`;
  return {
    code: 'missing-value',
    severity: 'error',
    span: spanOf(token),
    message: `A plant’s cultivar stands in single quotes: \`${cultivar}\`.`,
    mends: [writing(cultivar, spanOf(token))],
  };
}

function secondPlant(first: Taxa, second: Taxa, text: string): Problem {
  const genusOnly = !(first.stock ?? first.scion).epithet && first.span.end + 1 === second.span.start;
  const name = text.slice(second.span.start, second.span.end);
  const epithet = genusOnly && /^\p{Lu}[\p{Ll}-]+$/u.test(name) ? name.toLowerCase() : undefined;
  return {
    code: 'contradiction',
    severity: 'error',
    span: second.span,
    message: epithet
      ? `A second plant; or is it the kind of ${first.scion.genus}? That is written small: \`${epithet}\`.`
      : 'A second plant: a pair is written `scion / understock`.',
    ...(epithet ? { mends: [writing(epithet, second.span)] } : {}),
  };
}

function secondTarget(verb: Verb, set: SetRef): Problem {
  return {
    code: 'contradiction',
    severity: 'error',
    span: set.span,
    message: `A line with \`${verb}\` speaks of one ${verb === 'graft' ? 'set' : 'thing'}: give \`${set.name.text}\` a line of its own.`,
  };
}
