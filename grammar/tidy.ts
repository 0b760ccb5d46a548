import type { IToken } from 'chevrotain';
import { dropCommas } from './sort-words.ts';
import type { Stretch } from './stretches.ts';
import {
  Amount,
  Count,
  Grafts,
  Interval,
  ListComma,
  Size,
  Slash,
  Span as SpanToken,
  tokenize,
  Word,
} from './tokens.ts';
import { attached, spelledInterval, spelledSet } from './values/spelling.ts';

/** One blank between words, none around a list's comma; figures and sets in their canonical spelling. */
export function tidy(line: string, { span, list, yearDays }: Stretch): string {
  const text = line.slice(span.start, span.end);
  const tokens = tokenize(text);
  dropCommas(tokens);
  let out = '';
  tokens.forEach((token, i) => {
    const before = tokens[i - 1];
    const between = before ? text.slice(before.startOffset + before.image.length, token.startOffset) : '';
    const joined = before !== undefined && joins(before, token) && (list === 'words' || (list === 'keyed' && i > 1));
    // `except K26.3, K26.5` is a list, too
    const sets = before?.tokenType === Grafts && token.tokenType === Grafts;
    if (between.includes(',') && (joined || sets)) out += ',';
    // one blank would make `K26.1,2 x4` a graft and a size
    else if (token.tokenType === Count && before?.tokenType === Grafts && before.image.includes(',')) out += '  ';
    else if (list === 'pair' && before && (token.tokenType === Slash || before.tokenType === Slash)) out += ' ';
    else if (between !== '' && token.tokenType !== ListComma && before?.tokenType !== ListComma) out += ' ';
    out += yearDays ? spelledDays(token) : spelled(token);
  });
  return out;
}

/** `mar-1` as `mar-01`. */
const spelledDays = (token: IToken): string =>
  token.tokenType === SpanToken || token.tokenType === Word
    ? token.image.replace(/\b([a-z]{3})-(\d)(?!\d)/g, '$1-0$2')
    : spelled(token);

const joins = (a: IToken, b: IToken) => isListed(a) && isListed(b);
const isListed = ({ tokenType }: IToken) => tokenType === Word || tokenType === SpanToken;

function spelled(token: IToken): string {
  switch (token.tokenType) {
    case Grafts:
      return spelledSet(token.image);
    case Interval:
      return spelledInterval(token.image);
    case Amount:
      return attached(token.image);
    case Size:
      return token.image
        .split(/\s*([×x])\s*/)
        .map((part) => (part === 'x' || part === '×' ? ` ${part} ` : spelledInterval(part)))
        .join('');
    default:
      return token.image;
  }
}
