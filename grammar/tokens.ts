import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { colon, dash, inchMark, point, pointed, signsAhead, span, times } from './signs-ahead.ts';

/*
 * The lexer knows no reserved words: it makes `Word`s, and the vocabulary sorts them for the line's verb afterwards.
 * Order is meaning here, the first match wins.
 */
const A = String.raw`[\p{L}\p{M}\p{N}]`;
const NUM = String.raw`[-−+]?\d+(?:[.,]\d+)?`;
const INCHES = String.raw`(?:\d+ )?\d+\/\d+`;
const RANGE = String.raw`(?:[ \u00A0]?\.\.[ \u00A0]?|[-–])`;
/** Between numbers of grafts three dots, and the one sign telephones make of them, are the same. */
const TO = String.raw`(?:[ \u00A0]?(?:\.{2,3}|…)[ \u00A0]?|[-–])`;
// `in` and `min` are words, too: they are units only when attached
const spaced = '(?:mm|cm|%|°C|C|°F|F|mo|h|d|wk|y)';
/*
 * A unit ends where no letter follows. That is asked once, where a pattern ends: inside it a sign follows anyway, and
 * each such question makes the engine compile the letters of all scripts anew: 20 ms of a cold start when it was asked
 * behind every unit.
 */
// `cut 1/3 in frame` is a share and a place: behind a blank `in` is inches where no name follows, or no share is written so
const INCH = String.raw`(?:${INCHES}in|(?:\d+ \d+\/\d+|\d+\/(?:8|16|32|64))[ \u00A0]in|\d+\/\d+[ \u00A0]in(?![ \t\u00A0]+\p{L}))`;
const AMOUNT = String.raw`(?:${INCH}|${NUM}(?:(?:in|min|${spaced})|[ \u00A0]${spaced}))`;
const V = String.raw`(?:${AMOUNT}|\d+\/\d+|${NUM})`;
const LENGTH = String.raw`(?:${AMOUNT}|${NUM})`;
const LENGTHS = String.raw`${LENGTH}(?:${RANGE}${LENGTH})?`;
const WITH_UNIT = String.raw`(?:${LENGTH}${RANGE})?${AMOUNT}`;
const NAME = String.raw`\p{L}${A}*(?:[-_]${A}+)*`;
const N = String.raw`\d+(?!${A}|[%:/])`;
// behind a comma a figure with a unit or a size begins the next fact, not another graft; a count doesn't
const LONG = String.raw`[×x](?:[ \u00A0]\d|(?:${NUM}(?:${RANGE}${NUM})?|${INCHES})[ \u00A0]?(?:in|min|${spaced})(?!${A}))`;
const NEXT = String.raw`\d+(?!${A}|[ \u00A0]?(?:[%/:]|(?:in|min|${spaced})(?!${A})|${LONG}))`;
const BLANKS = String.raw`[ \t\u00A0]`;
const WORD = String.raw`\p{L}${A}*(?:[-_'’]${A}+)*`;

/** The line being read has no letter beyond ASCII: most lines. */
let plain = false;
const ascii = /^[\x00-\x7f]*$/;

/**
 * Two expressions for one pattern. Asking for a letter of any script takes the engine hundreds of ranges, at every start
 * and on every key; a line of plain ASCII is read by the one that knows A to Z.
 * `needs`: signs without which it can't match; see signs-ahead.ts.
 */
function pattern(source: string, needs: number) {
  const any = new RegExp(source, 'uy');
  const latin = new RegExp(plainOf(source), 'y');
  return {
    any,
    exec(text: string, offset: number) {
      if (needs !== 0 && (signsAhead(text, offset) & needs) !== needs) return null;
      const regex = plain ? latin : any;
      regex.lastIndex = offset;
      return regex.exec(text);
    },
  };
}

function plainOf(source: string): string {
  const letters = (inside: string) =>
    inside
      .replaceAll('\\p{L}', 'A-Za-z')
      .replaceAll('\\p{Lu}', 'A-Z')
      .replaceAll('\\p{N}', '0-9')
      .replaceAll('\\p{M}', '');
  return source.replace(/\[[^\]]*\]/g, letters).replace(/\\p\{\w+\}/g, (one) => `[${letters(one)}]`);
}

type Starts = readonly (string | number)[];

/*
 * What a token may begin with: the lexer then tries only those that can match, but for that every token must say so.
 * Beyond Latin-1 it looks at stretches of 255 code units; one of each stands for all.
 */
const beyond: Starts = Array.from({ length: 257 }, (_, i) => Math.max(256, (i + 1) * 255));
const latin: readonly number[] = Array.from({ length: 256 }, (_, code) => code);
const starting = (letter: RegExp): Starts => [
  ...latin.filter((code) => letter.test(String.fromCharCode(code))),
  ...beyond,
];
const letters = starting(/\p{L}/u);
const capitals = starting(/\p{Lu}/u);
const blanks = starting(/[\s,;:=]/);
const anything = starting(/./s);
const signs: Starts = ['+', '-', ...'0123456789', '−'];
/** Any token at all: what the line's grammar falls back on, so that no line is refused. */
export const Any = createToken({ name: 'Any', pattern: Lexer.NA });

interface Kind {
  readonly needs?: number;
  readonly skipped?: boolean;
}

function token(name: string, source: string, starts: Starts, { needs = 0, skipped = false }: Kind = {}): TokenType {
  return createToken({
    name,
    categories: [Any],
    pattern: pattern(source, needs),
    line_breaks: false,
    start_chars_hint: [...starts],
    ...(skipped ? { group: Lexer.SKIPPED } : {}),
  });
}

const Blank = token('Blank', String.raw`[\s\uFEFF]+|[,;](?=\s|$)|[:=]`, blanks, { skipped: true });
export const Comment = token('Comment', '#.*', ['#']);
export const InchMark = token('InchMark', `(?:${INCHES}|${NUM})"`, signs, { needs: inchMark });
export const Text = token('Text', String.raw`"(?:[^"]|"")*"?|“[^”]*”?`, ['"', '“']);
export const Cultivar = token('Cultivar', String.raw`'(?:[^']|'(?=\p{L}))*'?|‘(?:[^’]|’(?=\p{L}))*’?`, ["'", '‘']);
export const DateWord = token('DateWord', String.raw`\d{4}-\d{1,2}-\d{1,2}(?!${A})`, signs, {
  needs: dash,
});
export const OtherDate = token(
  'OtherDate',
  String.raw`(?:\d{1,2}[./]\d{1,2}[./]\d{2,4}|\d{4}[./]\d{1,2}[./]\d{1,2})(?!\d)`,
  signs,
  { needs: point },
);
export const Time = token('Time', String.raw`\d{1,2}:\d{2}(?!${A})`, signs, { needs: colon });
export const Size = token(
  'Size',
  String.raw`${LENGTHS}${BLANKS}*[×x]${BLANKS}*${WITH_UNIT}(?!${A})|${WITH_UNIT}${BLANKS}*[×x]${BLANKS}+${LENGTHS}(?!${A}|%)`,
  signs,
  { needs: times },
);
export const Interval = token(
  'Interval',
  String.raw`(?:${V}${RANGE}|\.\.)${V}(?!${A})|${V}\.\.(?=[,;]?(?:\s|$))`,
  [...signs, '.'],
  {
    needs: span,
  },
);
export const Amount = token('Amount', String.raw`${AMOUNT}(?!${A})`, signs);
export const Fraction = token('Fraction', String.raw`\d+\/\d+(?!${A})`, signs, { needs: point });
export const Count = token('Count', String.raw`[×x]\d+(?!${A}|%)`, ['×', 'x']);
export const Grafts = token(
  'Grafts',
  String.raw`${NAME}\.${N}(?:${TO}${N})?(?:,[ \u00A0]?${NEXT}(?:${TO}${NEXT}|(?!${TO}\d)))*`,
  letters,
  { needs: pointed },
);
export const NumberWord = token('NumberWord', NUM, signs);
export const Times = token('Times', String.raw`[×x](?!${A})|×(?=\p{L})`, ['×', 'x']);
export const Slash = token('Slash', String.raw`\/`, ['/']);
export const Rank = token('Rank', String.raw`(?:subsp|var|f|sp|cv)\.(?!${A})`, ['s', 'v', 'f', 'c']);
export const GenusDot = token('GenusDot', String.raw`\p{Lu}\.(?!\d)`, capitals);
export const Span = token('Span', String.raw`${WORD}\.\.${WORD}`, letters, { needs: pointed });
export const Word = token('Word', WORD, letters);
export const ListComma = token('ListComma', ',(?=\\S)', [',']);
export const Other = token('Other', String.raw`[^\s\p{L}\p{N}"'“‘#]+|[^\s]`, anything);

/** What the vocabulary makes of a Word, for the verb of its line. */
const sorted = (name: string) => createToken({ name, pattern: Lexer.NA, categories: [Any] });
export const VerbWord = sorted('VerbWord');
export const KeyWord = sorted('KeyWord');
export const FlagWord = sorted('FlagWord');
export const ChoiceWord = sorted('ChoiceWord');
export const ScopeWord = sorted('ScopeWord');
export const RestWord = sorted('RestWord');
export const ExceptWord = sorted('ExceptWord');
export const sortedTokens = [Any, VerbWord, KeyWord, FlagWord, ChoiceWord, ScopeWord, RestWord, ExceptWord];

export const allTokens = [
  Blank,
  Comment,
  InchMark,
  Text,
  Cultivar,
  DateWord,
  OtherDate,
  Time,
  Size,
  Interval,
  Amount,
  Fraction,
  Count,
  Grafts,
  NumberWord,
  Times,
  Slash,
  Rank,
  GenusDot,
  Span,
  Word,
  ListComma,
  Other,
];

let lexer: Lexer | undefined;

/** The tokens of one line. Every character that is no blank is in some token: reading can't fail. */
export function tokenize(text: string): IToken[] {
  lexer ??= new Lexer(allTokens, {
    positionTracking: 'onlyOffset',
    safeMode: false,
    ensureOptimizations: true,
    skipValidations: true,
  });
  plain = ascii.test(text);
  return lexer.tokenize(text).tokens;
}
