import type { IToken } from 'chevrotain';
import type { Problem } from '../finding.ts';
import { end } from '../sort-words.ts';
import { Cultivar, Word } from '../tokens.ts';
import { writing } from './mends.ts';

/**
 * `'Growers' Pride'`: the first word's apostrophe closes the name too early, and the real end opens another one. Gives
 * the line as it is meant, as long as it was.
 */
export function apostropheInside(
  text: string,
  tokens: readonly IToken[],
): { text: string; problem: Problem } | undefined {
  if (!text.includes("'")) return undefined;
  for (let last = 2; last < tokens.length; last++) {
    const closing = tokens[last] as IToken;
    if (closing.tokenType !== Cultivar || !/[\p{L}\p{N}]/u.test(text[closing.startOffset - 1] ?? '')) continue;
    let first = last - 1;
    while (tokens[first]?.tokenType === Word) first--;
    const opening = tokens[first];
    if (opening?.tokenType !== Cultivar || first === last - 1 || !opening.image.endsWith("'")) continue;
    const at = end(opening) - 1;
    const meant = `${text.slice(0, at)}’${text.slice(at + 1)}`;
    const span = { start: opening.startOffset, end: closing.startOffset + 1 };
    const name = meant.slice(span.start, span.end);
    return {
      text: meant,
      problem: {
        code: 'unreadable',
        severity: 'error',
        span,
        message: `Inside a name an apostrophe that ends a word is written ’: \`${name}\`.`,
        mends: [writing(name, span)],
      },
    };
  }
  return undefined;
}
