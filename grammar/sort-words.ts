import type { IToken, TokenType } from 'chevrotain';
import {
  ChoiceWord,
  ExceptWord,
  FlagWord,
  Grafts,
  KeyWord,
  ListComma,
  RestWord,
  ScopeWord,
  Span,
  VerbWord,
  Word,
} from './tokens.ts';
import { events, hyphenStarts, type Meaning, type Verb, verbRow, verbWords, wordsOf } from './vocabulary.ts';

export interface Sorted {
  readonly verb: Verb;
  readonly verbToken: IToken;
}

const types: Readonly<Record<Meaning['class'], TokenType>> = {
  key: KeyWord,
  flag: FlagWord,
  choice: ChoiceWord,
  scope: ScopeWord,
};

/** Gives each word of a line its class, for the verb at `first`. Words that are one with hyphens become one. */
export function sortWords(tokens: IToken[], first: number): Sorted | undefined {
  const head = tokens[first];
  if (head?.tokenType !== Word) return undefined;
  const alone = verbWords.get(small(head.image));
  const said = alone ?? verbWords.get(joinedWord(tokens, first, verbWords));
  if (!said) return undefined;
  const verb = bindsWrap(tokens, first) ? 'rewrap' : said;
  if (!alone) join(tokens, first);
  retype(head, VerbWord);
  dropCommas(tokens);
  const words = wordsOf(verb);
  const sets = verbRow(verb).operand === 'sets';
  for (let i = first + 1; i < tokens.length; i++) {
    const token = tokens[i] as IToken;
    if (token.tokenType !== Word) continue;
    let meaning = words.get(token.image);
    if (hyphenStarts.has(token.image)) {
      const both = joinedWord(tokens, i, words) || (verb === 'practice' ? joinedWord(tokens, i, events) : '');
      if (both && (!meaning || words.get(both)?.class !== 'key')) {
        meaning = words.get(both);
        join(tokens, i, both.split('-').length);
      }
    }
    if (meaning) {
      retype(token, types[meaning.class]);
      token.payload = meaning;
    } else if (sets && token.image === 'rest') retype(token, RestWord);
    else if ((sets || verbRow(verb).operand === 'scopes') && token.image === 'except') retype(token, ExceptWord);
  }
  return { verb, verbToken: head };
}

/** `rebind` with a film or a bag covers again; without one it ties again. */
function bindsWrap(tokens: readonly IToken[], first: number): boolean {
  if (small((tokens[first] as IToken).image) !== 'rebind') return false;
  const words = wordsOf('rewrap');
  return tokens.some(({ tokenType, image }, i) => {
    const meaning = i > first && tokenType === Word ? words.get(image) : undefined;
    return meaning?.class === 'key' && (meaning.key === 'film' || meaning.key === 'bag');
  });
}

/** A comma says something only between words or sets, as part of a list; elsewhere it is as good as a blank. */
export function dropCommas(tokens: IToken[]): void {
  for (let i = tokens.length - 1; i >= 0; i--)
    if (tokens[i]?.tokenType === ListComma && !(isListed(tokens[i - 1]) && isListed(tokens[i + 1])))
      tokens.splice(i, 1);
}

const isListed = (token: IToken | undefined) =>
  token !== undefined && (token.tokenType === Word || token.tokenType === Grafts || token.tokenType === Span);

/** `side veneer`, `whip and tongue`: blanks for hyphens. Empty where it is none of the words. */
function joinedWord(tokens: readonly IToken[], at: number, words: { has(word: string): boolean }): string {
  const [a, b, c] = [tokens[at], tokens[at + 1], tokens[at + 2]];
  if (!a || b?.tokenType !== Word || b.startOffset !== end(a) + 1) return '';
  const two = `${small(a.image)}-${b.image}`;
  if (c?.tokenType === Word && c.startOffset === end(b) + 1 && words.has(`${two}-${c.image}`))
    return `${two}-${c.image}`;
  return words.has(two) ? two : '';
}

function join(tokens: IToken[], at: number, count = 2): void {
  const head = tokens[at] as IToken;
  const parts = tokens.slice(at, at + count);
  head.image = parts.map((part) => part.image).join(' ');
  head.endOffset = end(parts.at(-1) as IToken) - 1;
  tokens.splice(at + 1, count - 1);
}

/** A word of the notation as it is written, where a blank stood for its hyphen. */
export const wordOf = (token: IToken): string => token.image.replaceAll(' ', '-');

function retype(token: IToken, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx as number;
}

export const end = (token: IToken): number => token.startOffset + token.image.length;
const small = (word: string) => word.charAt(0).toLowerCase() + word.slice(1);
