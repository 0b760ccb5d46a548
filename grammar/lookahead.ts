import { EmbeddedActionsParser, EOF, type IToken } from 'chevrotain';
import { allCodes, isCode } from './codes.ts';
import { end } from './sort-words.ts';
import {
  Amount,
  allTokens,
  ChoiceWord,
  Count,
  Cultivar,
  ExceptWord,
  FlagWord,
  Fraction,
  GenusDot,
  Grafts,
  InchMark,
  Interval,
  KeyWord,
  ListComma,
  NumberWord,
  Other,
  Rank,
  RestWord,
  ScopeWord,
  Size,
  Slash,
  Span,
  sortedTokens,
  Text,
  Times,
  VerbWord,
  Word,
} from './tokens.ts';
import {
  coverFlags,
  gone,
  keyedWords,
  keyRow,
  type Meaning,
  months,
  nearest,
  reservedWords,
  seasons,
  type ValueForm,
  type Verb,
  type VerbRow,
  verbRow,
} from './vocabulary.ts';

/** What lies ahead on a line: where a piece begins and how far it goes. The grammar itself is in parser.ts. */
export abstract class Lookahead extends EmbeddedActionsParser {
  verb: Verb = 'check';
  row: VerbRow = verbRow('check');
  words: ReadonlyMap<string, Meaning> = new Map();
  targets = 0;
  text = '';

  constructor(validated: boolean) {
    super([...sortedTokens, ...allTokens.filter((type) => type.name !== 'Blank')], {
      maxLookahead: 1,
      recoveryEnabled: false,
      skipValidations: !validated,
    });
  }

  protected nameDue(): boolean {
    const { operand } = this.row;
    return this.targets === 0 && operand !== 'none' && operand !== 'scopes';
  }

  /** `2601`, `26.1..12`, `2nd-frame`; but `open 20 K26` lacks a unit. */
  protected isBadName(tokens: readonly IToken[]): boolean {
    const [first] = tokens;
    if (!first || !/^\d+(?:\.\d+)?(?:\.\.\d+)?$/.test(first.image)) return false;
    if (first.tokenType !== NumberWord && first.tokenType !== Interval) return false;
    const figureDue = this.row.share !== undefined || this.row.facts.includes('amount');
    return !(figureDue && tokens.length === 1 && (isWord(this.LA(1)) || this.LA(1).tokenType === Grafts));
  }

  /** A word that begins a fact elsewhere, `in yard` on a line without `in`: what stands behind it is its value. */
  protected ownsNext(tokens: readonly IToken[]): boolean {
    const [first] = tokens;
    if (first?.tokenType !== Word || tokens.length > 1 || !keyedWords.has(small(first.image))) return false;
    const next = this.LA(1);
    return next.tokenType === Word || isFigure(next);
  }

  protected glued(tokens: readonly IToken[]): boolean {
    const [last, next] = [tokens.at(-1), this.LA(1)];
    return last?.tokenType === NumberWord && isWord(next) && next.startOffset === end(last);
  }

  protected codesAhead(): boolean {
    return this.verb === 'accept' && this.targets === 0 && this.LA(1).tokenType === Word;
  }

  protected listGoesOn(): boolean {
    const next = this.LA(1);
    if (next.tokenType === ListComma) return isWord(this.LA(2));
    return next.tokenType === Word && this.commaBefore(next) && isCodeLike(next.image);
  }

  protected commaBefore(token: IToken): boolean {
    return /,\s*$/.test(this.text.slice(0, token.startOffset));
  }

  protected exceptGoesOn(last: IToken | undefined): boolean {
    const next = this.LA(1);
    if (!last) return next.tokenType === Grafts;
    const set = next.tokenType === ListComma ? this.LA(2) : this.commaBefore(next) ? next : undefined;
    return set?.tokenType === Grafts && nameIn(set) === nameIn(last);
  }

  protected setAhead(): boolean {
    const next = this.LA(1);
    const { operand } = this.row;
    if (operand === 'none') return false;
    if (next.tokenType === Grafts) return true;
    if (this.nameDue() && isWord(next) && next.tokenType !== RestWord && next.tokenType !== ExceptWord) {
      if (next.tokenType === Word) return true;
      // a word of the notation can't be a name, and the log says so; a key with its value is none
      return operand === 'name' && !(next.tokenType === KeyWord && this.valueGoesOn(next, [], 1));
    }
    if (next.tokenType !== Word || reservedWords.has(next.image) || this.words.has(small(next.image))) return false;
    return operand === 'sets' || (operand === 'scopes' && !isCapital(next.image) && !gone.has(next.image));
  }

  protected taxonAhead(k: number): boolean {
    if (!this.row.taxa) return false;
    const next = this.LA(k);
    if (next.tokenType === Times || (next.tokenType === Other && next.image === '+')) return this.genusAt(k + 1);
    return this.genusAt(k);
  }

  protected genusAt(k: number): boolean {
    const next = this.LA(k);
    if (next.tokenType === GenusDot) return true;
    return next.tokenType === Word && isCapital(next.image) && !this.words.has(small(next.image));
  }

  /** [× | +] genus [×] [epithet [× epithet]] {rank epithet} [Word Group] [cultivar] */
  protected taxonGoesOn(tokens: readonly IToken[]): boolean {
    const next = this.LA(1);
    const last = tokens.at(-1);
    if (next.tokenType === EOF) return false;
    if (!last) return true;
    if (last.tokenType === Cultivar) return false;
    const genus = tokens.some(
      (token) => token.tokenType === GenusDot || (token.tokenType === Word && isCapital(token.image)),
    );
    if (!genus) return true;
    if (next.tokenType === Cultivar) return true;
    if (next.tokenType === Rank) return true;
    if (next.tokenType === Times) return this.LA(2).tokenType === Word && !isCapital(this.LA(2).image);
    // `A. p.`: the epithet spelled out before, by its first letter
    if (next.image === '.') return /^\p{Ll}$/u.test(last.image) && next.startOffset === end(last);
    if (next.tokenType !== Word) return false;
    if (isCapital(next.image))
      return this.LA(2).image === 'Group' || (next.image === 'Group' && last.tokenType === Word);
    // one epithet, more only behind a rank or a ×
    return last.tokenType === Rank || last.tokenType === Times || isGenus(last);
  }

  /** Whether the token `skip` places ahead is part of a key's value. */
  protected valueGoesOn(key: IToken, value: readonly IToken[], skip = 0): boolean {
    const row = keyRow((key.payload as { key: 'cut' }).key);
    const form = row.with?.[this.verb]?.value ?? row.value;
    const next = this.LA(1 + skip);
    const type = next.tokenType;
    const last = value.at(-1);
    if (type === EOF) return false;
    if (last) return this.glued(value) || this.listValueGoesOn(form, value, last, next);
    const optional = row.optional && this.verb !== 'practice';
    if (isFigure(next))
      return !(type === Count && form !== 'count') && !(optional && form === 'text') && form !== 'code';
    switch (form) {
      case 'name':
      case 'names':
      case 'hands':
      case 'choice':
      case 'zone':
      case 'code':
      case 'work':
      case 'events':
      case 'covers':
      case 'task':
      case 'yearday':
        return isWord(next) || type === Text || type === Other;
      case 'year':
      case 'dates':
        return isWord(next) || type === Span;
      case 'text':
        if (type === Text) return true;
        // a capital begins a plant
        return optional ? type === Word && /^\p{Ll}/u.test(next.image) : isWord(next);
      default:
        if (optional) return false;
        // an unknown word behind a key that wants a figure is that key's, a word of the verb begins the next fact
        return (
          (type === Word && !isCapital(next.image) && this.row.operand !== 'sets') ||
          type === Other ||
          next.image === 'none'
        );
    }
  }

  protected listValueGoesOn(form: ValueForm, value: readonly IToken[], last: IToken, next: IToken): boolean {
    const type = next.tokenType;
    const afterNext = this.LA(2);
    const attached = next.startOffset === end(last);
    switch (form) {
      case 'names':
      case 'hands':
      case 'code':
      case 'year':
      case 'work':
      case 'events':
      case 'covers':
        // `1 Mar..15 May`, `03-01..05-15`: one day, or span, that can't be read
        if (form === 'year' && isFigure(value[0])) return attached || isMonth(next.image);
        if (type === ListComma) return isWord(afterNext) || afterNext.tokenType === Span;
        if (last.tokenType === ListComma) return true;
        if (form === 'covers' && next.image === 'none') return true;
        return this.fitsList(form, next) && this.commaBefore(next);
      case 'dates':
      case 'yearday':
        return last.tokenType === NumberWord ? attached || isMonth(next.image) : isMonth(last.image) && attached;
      case 'zone':
        return type === Slash || last.tokenType === Slash || attached;
      case 'task':
        return value.length === 1 && (type === Amount || type === NumberWord);
      case 'size':
        // `4 x 90`: two lengths without their unit
        if (last.tokenType === Times) return type === NumberWord;
        return last.tokenType === NumberWord && (type === Times || (type === Count && attached));
      default:
        return false;
    }
  }

  /** A word behind a list's comma and a blank goes on with the list if it can be nothing else. */
  protected fitsList(form: ValueForm, next: IToken): boolean {
    if (form === 'hands') return next.tokenType === Word && !/\d/.test(next.image);
    if (form === 'code') return next.tokenType === Word && isCodeLike(next.image);
    if (form === 'year') return next.tokenType === Span || (next.tokenType === Word && isYearWord(next.image));
    return form === 'covers' && (coverFlags as readonly string[]).includes(next.image);
  }
}

/** The name before a set's numbers. */
const nameIn = (grafts: IToken) => grafts.image.slice(0, /\.(?=\d)/.exec(grafts.image)?.index).toLowerCase();
const isMonth = (word: string) => /^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)/i.test(word);
const isYearWord = (word: string) => (months as readonly string[]).includes(word) || seasonWords.has(word);
const seasonWords = new Set<string>([...seasons, 'fall']);
const isCodeLike = (word: string) =>
  isCode(word) || (/^[a-z]+(?:-[a-z]+)*$/.test(word) && nearest(word, allCodes) !== undefined);
const small = (word: string) => word.charAt(0).toLowerCase() + word.slice(1);
const isCapital = (word: string) => /^\p{Lu}[\p{L}\p{M}]*$/u.test(word);
const isGenus = (token: IToken) => token.tokenType === GenusDot || (token.tokenType === Word && isCapital(token.image));
const figures = new Set([Amount, Interval, Fraction, NumberWord, Size, Count, InchMark]);
export const isFigure = (token: IToken | undefined) => token !== undefined && figures.has(token.tokenType);
const words = new Set([Word, VerbWord, KeyWord, FlagWord, ChoiceWord, ScopeWord, RestWord, ExceptWord]);
export const isWord = (token: IToken) => words.has(token.tokenType);
