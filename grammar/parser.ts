import type { IToken } from 'chevrotain';
import { isFigure, Lookahead } from './lookahead.ts';
import type { Piece, RawTaxon } from './pieces.ts';
import { end } from './sort-words.ts';
import {
  Any,
  ChoiceWord,
  Count,
  ExceptWord,
  FlagWord,
  Grafts,
  KeyWord,
  ListComma,
  RestWord,
  ScopeWord,
  Slash,
  Text,
  VerbWord,
} from './tokens.ts';
import { type Meaning, type Verb, verbRow, wordsOf } from './vocabulary.ts';

/** A loose grammar: every token fits somewhere, so that a line never fails as a whole. */
class LineParser extends Lookahead {
  constructor(validated: boolean) {
    super(validated);
    this.performSelfAnalysis();
  }

  private pieces: Piece[] = [];
  private key: IToken | undefined;
  private keyValue: IToken[] = [];

  // Every line of a long log comes through here: a rule of its own for a piece, and for a key with its value, costs a
  // seventh of the reading, and alternatives made anew for each piece a tenth.
  statement = this.RULE('statement', (): Piece[] => {
    this.ACTION(() => {
      this.pieces = [];
    });
    this.CONSUME(VerbWord);
    this.MANY(this.#nextPiece);
    return this.pieces;
  });

  readonly #nextPiece = () => this.pieces.push(this.OR<Piece>(this.#alternatives));

  readonly #alternatives = {
    IGNORE_AMBIGUITIES: true,
    DEF: [
      { GATE: () => this.codesAhead(), ALT: () => this.SUBRULE(this.codes) },
      { GATE: () => this.setAhead(), ALT: () => this.SUBRULE(this.set) },
      { GATE: () => this.taxonAhead(1), ALT: () => this.SUBRULE(this.taxa) },
      { ALT: () => this.keyed() },
      { ALT: () => this.word(this.CONSUME(FlagWord)) },
      { ALT: () => this.word(this.CONSUME(ChoiceWord)) },
      { ALT: () => this.SUBRULE(this.scope) },
      { ALT: (): Piece => ({ kind: 'text', tokens: [this.CONSUME(Text)] }) },
      { ALT: () => this.SUBRULE(this.value) },
    ],
  };

  private keyed(): Piece {
    this.key = this.CONSUME(KeyWord);
    this.keyValue = [];
    this.MANY2(this.#restOfValue);
    return { kind: 'keyed', key: this.key, value: this.keyValue };
  }

  readonly #restOfValue = {
    GATE: () => this.valueGoesOn(this.key as IToken, this.keyValue),
    DEF: () => this.keyValue.push(this.CONSUME(Any)),
  };

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
    const head = this.CONSUME(Any);
    let rest = false;
    this.OPTION(() => {
      this.CONSUME(RestWord);
      rest = true;
    });
    const except = this.OPTION2(() => this.SUBRULE(this.except));
    const count = this.OPTION3(() => this.CONSUME(Count));
    return {
      kind: 'set',
      head,
      rest,
      ...(except ? { except } : {}),
      ...(count ? { count } : {}),
      end: end(this.LA(0)),
    };
  });

  /** One set left out, or several of one batch joined by commas. */
  except = this.RULE('except', (): NonNullable<Extract<Piece, { kind: 'set' }>['except']> => {
    const word = this.CONSUME(ExceptWord);
    const sets: IToken[] = [];
    this.MANY({
      GATE: () => this.exceptGoesOn(sets.at(-1)),
      DEF: () => {
        this.OPTION(() => this.CONSUME(ListComma));
        sets.push(this.CONSUME(Grafts));
      },
    });
    const figure = this.OPTION2({
      GATE: () => sets.length === 0 && isFigure(this.LA(1)) && this.LA(1).tokenType !== Count,
      DEF: () => this.CONSUME(Any),
    });
    return { word, sets, ...(figure ? { figure } : {}) };
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
    this.OPTION2({ GATE: () => this.ownsNext(tokens), DEF: () => tokens.push(this.CONSUME3(Any)) });
    if (this.nameDue() && this.isBadName(tokens)) {
      this.ACTION(() => this.targets++);
      return { kind: 'bad-name', tokens };
    }
    return { kind: isFigure(tokens[0]) ? 'value' : 'stray', tokens };
  });
}

let parser: LineParser | undefined;

/** A parser costs some ten milliseconds to make. Chevrotain's checks of the grammar are for a test: they cost more. */
export const makeParser = (validated = false): LineParser => new LineParser(validated);

/** The pieces of a statement, from its verb on; one parser serves all lines. */
export function parseStatement(text: string, verb: Verb, tokens: IToken[]): Piece[] {
  parser ??= makeParser();
  parser.verb = verb;
  parser.row = verbRow(verb);
  parser.words = wordsOf(verb);
  parser.targets = 0;
  parser.text = text;
  parser.input = tokens;
  return parser.statement();
}
