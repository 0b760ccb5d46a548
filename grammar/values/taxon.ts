import type { IToken } from 'chevrotain';
import { end } from '../sort-words.ts';
import type { Taxon } from '../statement.ts';
import { Cultivar, GenusDot, Rank, Times, Word } from '../tokens.ts';

export interface ReadTaxon {
  readonly taxon?: Taxon;
  /** The cultivar's closing quote is missing. */
  readonly unclosed?: true;
}

/**
 * A plant's name from its tokens; `P.` stands for the nearest genus before it with that initial, and
 * `A. p.` for that genus with the epithet it had there.
 */
export function readTaxon(
  tokens: readonly IToken[],
  generaBefore: readonly string[],
  before: readonly Taxon[] = [],
): ReadTaxon {
  const first = tokens[0];
  const last = tokens.at(-1);
  if (!first || !last) return {};
  const hybrid = first.tokenType === Times;
  const genusToken = tokens.find((token) => token.tokenType === GenusDot || token.tokenType === Word);
  if (!genusToken) return {};
  const genus =
    genusToken.tokenType === GenusDot
      ? generaBefore.findLast((name) => name.startsWith(genusToken.image.charAt(0)))
      : genusToken.image;
  if (!genus) return {};
  const words: string[] = [];
  const epithets: string[] = [];
  let cultivar: string | undefined;
  let unclosed = false;
  for (const token of tokens) {
    if (token === genusToken) words.push(genus);
    else if (token.image === '.') {
      const short = words.pop() ?? '';
      const full = before.findLast((taxon) => taxon.genus === genus && taxon.epithet?.startsWith(short))?.epithet;
      if (!full) return {};
      words.push(full);
      epithets.splice(-1, 1, full);
    } else if (token.tokenType === Cultivar) {
      unclosed = !/..['’]$/u.test(token.image);
      cultivar = token.image.slice(1, unclosed ? undefined : -1).trim();
      words.push(`'${cultivar}'`);
    } else {
      words.push(token.image === 'x' && token.tokenType === Times ? '×' : token.image);
      if (token.tokenType === Word || token.tokenType === Rank) epithets.push(token.image);
    }
  }
  return {
    taxon: {
      genus,
      ...(epithets.length > 0 ? { epithet: epithets.join(' ') } : {}),
      ...(cultivar ? { cultivar } : {}),
      ...(hybrid ? { hybrid: true as const } : {}),
      text: words.join(' '),
      span: { start: first.startOffset, end: end(last) },
    },
    ...(unclosed ? { unclosed: true as const } : {}),
  };
}
