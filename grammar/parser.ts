import { EmbeddedActionsParser, EOF, type IToken } from 'chevrotain';
import { end } from './sort-words.ts';
import {
  Amount,
  Any,
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
import { gone, keyRow, type Meaning, type Verb, type VerbRow, verbRow } from './vocabulary.ts';

export interface RawTaxon {
  readonly tokens: readonly IToken[];
}

/** The pieces a line falls into. What they mean, and whether they may stand there, is read afterwards. */
export type Piece =
  | {
      readonly kind: 'set';
      readonly head: IToken;
      readonly rest: boolean;
      readonly except: readonly IToken[];
      readonly count?: IToken;
      readonly end: number;
    }
  | { readonly kind: 'taxa'; readonly taxa: readonly RawTaxon[] }
  | { readonly kind: 'keyed'; readonly key: IToken; readonly value: readonly IToken[] }
  | { readonly kind: 'word'; readonly token: IToken; readonly meaning: Meaning }
  | { readonly kind: 'codes'; readonly words: readonly IToken[] }
  | { readonly kind: 'value' | 'text' | 'stray'; readonly tokens: readonly IToken[] };

/** A loose grammar: every token fits somewhere, so that a line never fails as a whole. */
class LineParser extends EmbeddedActionsParser {
  verb: Verb = 'check';
  row: VerbRow = verbRow('check');
  targets = 0;
  text = '';

  constructor() {
    super([...sortedTokens, ...allTokens.filter((type) => type.name !== 'Blank')], {
      maxLookahead: 1,
      recoveryEnabled: false,
      skipValidations: true,
    });
    this.performSelfAnalysis();
  }

  statement = this.RULE('statement', (): Piece[] => {
    const pieces: Piece[] = [];
    this.CONSUME(VerbWord);
    this.MANY(() => pieces.push(this.SUBRULE(this.piece)));
    return pieces;
  });

  piece = this.RULE(
    'piece',
    (): Piece =>
      this.OR<Piece>({
        IGNORE_AMBIGUITIES: true,
        DEF: [
          { GATE: () => this.codesAhead(), ALT: () => this.SUBRULE(this.codes) },
          { GATE: () => this.setAhead(), ALT: () => this.SUBRULE(this.set) },
          { GATE: () => this.taxonAhead(1), ALT: () => this.SUBRULE(this.taxa) },
          { ALT: () => this.SUBRULE(this.keyed) },
          { ALT: () => this.word(this.CONSUME(FlagWord)) },
          { ALT: () => this.word(this.CONSUME(ChoiceWord)) },
          { ALT: () => this.SUBRULE(this.scope) },
          { ALT: (): Piece => ({ kind: 'text', tokens: [this.CONSUME(Text)] }) },
          { ALT: () => this.SUBRULE(this.value) },
        ],
      }),
  );

  private word(token: IToken): Piece {
    return { kind: 'word', token, meaning: token.payload as Meaning };
  }

  codes = this.RULE('codes', (): Piece => {
    this.ACTION(() => this.targets++);
    return { kind: 'codes', words: this.SUBRULE(this.list) };
  });

  /** Words joined by commas; a blank may stand behind the comma. */
  list = this.RULE('list', (): IToken[] => {
    const words = [this.CONSUME(Any)];
    this.MANY({
      GATE: () => this.listGoesOn(),
      DEF: () => {
        this.OPTION(() => this.CONSUME(ListComma));
        words.push(this.CONSUME2(Any));
      },
    });
    return words;
  });

  set = this.RULE('set', (): Piece => {
    this.ACTION(() => this.targets++);
    const head = this.OR([{ ALT: () => this.CONSUME(Grafts) }, { ALT: () => this.CONSUME(Any) }]);
    let rest = false;
    this.OPTION(() => {
      this.CONSUME(RestWord);
      rest = true;
    });
    const except: IToken[] = [];
    this.OPTION2(() => {
      this.CONSUME(ExceptWord);
      this.OPTION4(() => except.push(this.CONSUME2(Grafts)));
    });
    const count = this.OPTION3(() => this.CONSUME(Count));
    return { kind: 'set', head, rest, except, ...(count ? { count } : {}), end: end(this.LA(0)) };
  });

  taxa = this.RULE('taxa', (): Piece => {
    const taxa = [this.SUBRULE(this.taxon)];
    this.MANY({
      GATE: () => this.LA(1).tokenType === Slash && this.taxonAhead(2),
      DEF: () => {
        this.CONSUME(Slash);
        taxa.push(this.SUBRULE2(this.taxon));
      },
    });
    return { kind: 'taxa', taxa };
  });

  taxon = this.RULE('taxon', (): RawTaxon => {
    const tokens = [this.CONSUME(Any)];
    this.MANY({ GATE: () => this.taxonGoesOn(tokens), DEF: () => tokens.push(this.CONSUME2(Any)) });
    return { tokens };
  });

  keyed = this.RULE('keyed', (): Piece => {
    const key = this.CONSUME(KeyWord);
    const value: IToken[] = [];
    this.MANY({ GATE: () => this.valueGoesOn(key, value), DEF: () => value.push(this.CONSUME(Any)) });
    return { kind: 'keyed', key, value };
  });

  scope = this.RULE('scope', (): Piece => {
    const words = [this.CONSUME(ScopeWord)];
    this.MANY({
      GATE: () => this.LA(2).tokenType === ScopeWord,
      DEF: () => {
        this.CONSUME(ListComma);
        words.push(this.CONSUME2(ScopeWord));
      },
    });
    return { kind: 'value', tokens: words };
  });

  /** A figure without a key, or anything that fits nowhere. A figure and the letters right behind it belong together. */
  value = this.RULE('value', (): Piece => {
    const tokens = [this.CONSUME(Any)];
    this.OPTION({ GATE: () => this.glued(tokens), DEF: () => tokens.push(this.CONSUME2(Any)) });
    return { kind: isFigure(tokens[0]) ? 'value' : 'stray', tokens };
  });

  private glued(tokens: readonly IToken[]): boolean {
    const [last, next] = [tokens.at(-1), this.LA(1)];
    return last?.tokenType === NumberWord && isWord(next) && next.startOffset === end(last);
  }

  private codesAhead(): boolean {
    return this.verb === 'accept' && this.targets === 0 && this.LA(1).tokenType === Word;
  }

  private listGoesOn(): boolean {
    const next = this.LA(1);
    if (next.tokenType === ListComma) return isWord(this.LA(2));
    return next.tokenType === Word && this.commaBefore(next);
  }

  private commaBefore(token: IToken): boolean {
    return /,\s*$/.test(this.text.slice(0, token.startOffset));
  }

  private setAhead(): boolean {
    const next = this.LA(1);
    const { operand } = this.row;
    if (operand === 'none') return false;
    if (next.tokenType === Grafts) return true;
    const due = this.targets === 0 && operand !== 'scopes';
    if (due && isWord(next) && next.tokenType !== RestWord && next.tokenType !== ExceptWord) {
      // a bare `check plump` or `check "text"` is a remark on the day; any other first word is the target
      return next.tokenType === Word || !this.row.bare ? next.tokenType === Word || operand === 'name' : false;
    }
    if (next.tokenType !== Word) return false;
    return operand === 'sets' || (operand === 'scopes' && !isCapital(next.image) && !(next.image in gone));
  }

  private taxonAhead(k: number): boolean {
    if (!this.row.taxa) return false;
    const next = this.LA(k);
    if (next.tokenType === Times || (next.tokenType === Other && next.image === '+')) return this.genusAt(k + 1);
    return this.genusAt(k);
  }

  private genusAt(k: number): boolean {
    const next = this.LA(k);
    return next.tokenType === GenusDot || (next.tokenType === Word && isCapital(next.image));
  }

  /** [× | +] genus [×] [epithet [× epithet]] {rank epithet} [Word Group] [cultivar] */
  private taxonGoesOn(tokens: readonly IToken[]): boolean {
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
    if (next.tokenType !== Word) return false;
    if (isCapital(next.image))
      return this.LA(2).image === 'Group' || (next.image === 'Group' && last.tokenType === Word);
    // one epithet, more only behind a rank or a ×
    return last.tokenType === Rank || last.tokenType === Times || isGenus(last);
  }

  private valueGoesOn(key: IToken, value: readonly IToken[]): boolean {
    const row = keyRow((key.payload as { key: 'cut' }).key);
    const form = row.with?.[this.verb]?.value ?? row.value;
    const next = this.LA(1);
    const type = next.tokenType;
    const last = value.at(-1);
    if (type === EOF) return false;
    if (last) {
      if (this.glued(value)) return true;
      switch (form) {
        case 'names':
        case 'hands':
        case 'code':
        case 'year':
        case 'work':
        case 'events':
        case 'covers':
          if (type === ListComma) return isWord(this.LA(2)) || this.LA(2).tokenType === Span;
          if (last.tokenType === ListComma) return true;
          if (form === 'covers' && next.image === 'none') return true;
          return (form === 'hands' || form === 'code') && type === Word && this.commaBefore(next);
        case 'zone':
          return type === Slash || last.tokenType === Slash;
        case 'task':
          return value.length === 1 && (type === Amount || type === NumberWord);
        default:
          return false;
      }
    }
    if (isFigure(next))
      return !(type === Count && form !== 'count') && !(row.optional && form === 'text') && form !== 'code';
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
        return row.optional
          ? type === Word && !isCapital(next.image)
          : isWord(next) && (type === Word || form === 'text');
      default:
        if (row.optional) return false;
        // an unknown word behind a key that wants a figure is that key's, a word of the verb begins the next fact
        return (
          (type === Word && !isCapital(next.image) && this.row.operand !== 'sets') ||
          type === Other ||
          next.image === 'none'
        );
    }
  }
}

const isCapital = (word: string) => /^\p{Lu}[\p{L}\p{M}]*$/u.test(word);
const isGenus = (token: IToken) => token.tokenType === GenusDot || (token.tokenType === Word && isCapital(token.image));
const figures = new Set([Amount, Interval, Fraction, NumberWord, Size, Count, InchMark]);
export const isFigure = (token: IToken | undefined) => token !== undefined && figures.has(token.tokenType);
const words = new Set([Word, VerbWord, KeyWord, FlagWord, ChoiceWord, ScopeWord, RestWord, ExceptWord]);
export const isWord = (token: IToken) => words.has(token.tokenType);

let parser: LineParser | undefined;

/** The pieces of a statement, from its verb on; one parser serves all lines. */
export function parseStatement(text: string, verb: Verb, tokens: IToken[]): Piece[] {
  parser ??= new LineParser();
  parser.verb = verb;
  parser.row = verbRow(verb);
  parser.targets = 0;
  parser.text = text;
  parser.input = tokens;
  return parser.statement();
}
