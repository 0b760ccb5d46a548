import type { IToken, TokenType } from 'chevrotain';
import { ChoiceWord, ExceptWord, FlagWord, KeyWord, RestWord, ScopeWord, VerbWord, Word } from './tokens.ts';
import { type Meaning, type Verb, verbRow, verbWords, wordsOf } from './vocabulary.ts';

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

/** Gives each word of a line its class, for the verb at `first`. Two words that are one with a hyphen become one. */
export function sortWords(tokens: IToken[], first: number): Sorted | undefined {
  const head = tokens[first];
  if (head?.tokenType !== Word) return undefined;
  const joined = joinedWord(tokens, first, verbWords);
  const verb = verbWords.get(lower(head.image)) ?? (joined ? verbWords.get(joined) : undefined);
  if (!verb) return undefined;
  if (!verbWords.has(lower(head.image))) join(tokens, first);
  retype(head, VerbWord);
  const words = wordsOf(verb);
  const sets = verbRow(verb).operand === 'sets';
  for (let i = first + 1; i < tokens.length; i++) {
    const token = tokens[i] as IToken;
    if (token.tokenType !== Word) continue;
    let meaning = words.get(token.image);
    const both = joinedWord(tokens, i, words);
    if (both && (!meaning || words.get(both)?.class !== 'key')) {
      meaning = words.get(both);
      join(tokens, i);
    }
    if (meaning) {
      retype(token, types[meaning.class]);
      token.payload = meaning;
    } else if (sets && token.image === 'rest') retype(token, RestWord);
    else if ((sets || verbRow(verb).operand === 'scopes') && token.image === 'except') retype(token, ExceptWord);
  }
  return { verb, verbToken: head };
}

/** `side veneer`, `frost free`: a blank for a hyphen. */
function joinedWord(tokens: readonly IToken[], at: number, words: ReadonlyMap<string, unknown>): string | undefined {
  const [a, b] = [tokens[at], tokens[at + 1]];
  if (!a || b?.tokenType !== Word || b.startOffset !== end(a) + 1) return undefined;
  const both = `${a.image}-${b.image}`;
  return words.has(both) ? both : undefined;
}

function join(tokens: IToken[], at: number): void {
  const a = tokens[at] as IToken;
  const b = tokens[at + 1] as IToken;
  a.image = `${a.image} ${b.image}`;
  a.endOffset = end(b) - 1;
  tokens.splice(at + 1, 1);
}

export function retype(token: IToken, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx as number;
}

export const end = (token: IToken): number => token.startOffset + token.image.length;
const lower = (word: string) => word.charAt(0).toLowerCase() + word.slice(1);
