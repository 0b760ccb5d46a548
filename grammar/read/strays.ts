import type { IToken } from 'chevrotain';
import type { Problem } from '../finding.ts';
import { isWord } from '../parser.ts';
import type { Statement } from '../statement.ts';
import { Count, Cultivar, DateWord, Grafts, OtherDate, Times } from '../tokens.ts';
import { gone, nearest, type VerbRow, wordsOf } from '../vocabulary.ts';
import { spanOf } from './dates.ts';

/** A piece that fits nowhere on its verb's line. */
export function strayPiece(
  token: IToken,
  statement: Pick<Statement, 'verb'>,
  row: VerbRow,
  genera: readonly string[],
): Problem {
  const span = spanOf(token);
  const { verb } = statement;
  if (isWord(token)) {
    const near = nearest(token.image, wordsOf(verb).keys());
    const went = verb === 'practice' ? gone[token.image] : undefined;
    return {
      code: 'unknown-word',
      severity: 'error',
      span,
      message: went
        ? `\`${token.image}\` is written as a sentence: \`${went}\`.`
        : near
          ? `\`${token.image}\` is no word for a line with \`${verb}\`. Is it \`${near}\`?`
          : `\`${token.image}\` is no word for a line with \`${verb}\`.`,
      ...(went || near
        ? {
            mends: [
              { title: `Write \`${went ?? near}\``.slice(0, 40), edits: [{ span, text: (went ?? near) as string }] },
            ],
          }
        : {}),
    };
  }
  const unreadable = (message: string): Problem => ({ code: 'unreadable', severity: 'error', span, message });
  if (token.tokenType === Cultivar)
    return unreadable(
      row.taxa
        ? genera.length > 0
          ? 'A second cultivar: one stands behind each plant.'
          : "A cultivar stands behind its plant: `Pinus parviflora 'Tenysu'`."
        : `A line with \`${verb}\` names no plants; a remark stands in double quotes.`,
    );
  if (token.tokenType === DateWord || token.tokenType === OtherDate)
    return unreadable('The date comes first on a line.');
  if (token.tokenType === Grafts)
    return unreadable(`\`${token.image}\`: a line with \`${verb}\` names no grafts here.`);
  if (token.tokenType === Count || token.tokenType === Times)
    return unreadable('A count is written `x60`, right behind its set.');
  return unreadable(`\`${token.image}\` can’t be read here.`);
}
