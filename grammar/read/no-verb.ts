import type { IToken } from 'chevrotain';
import type { Problem, Span } from '../finding.ts';
import { end } from '../sort-words.ts';
import { Grafts, Word } from '../tokens.ts';
import { nearVerbs } from '../vocabulary/near-verbs.ts';
import { nearest, verbWords } from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { writing } from './mends.ts';
import { noText } from './no-text.ts';

/** A line whose first word is no verb; the rest of it is not looked at. */
export function noVerb(tokens: readonly IToken[], at: number): Problem {
  const first = tokens[at] as IToken;
  const second = tokens[at + 1];
  const verb = second?.tokenType === Word ? verbWords.get(second.image.toLowerCase()) : undefined;
  const isWord = first.tokenType === Word;
  if (first.tokenType === Grafts || (isWord && (/\d/.test(first.image) || verb))) {
    const turned = `${verb ?? 'take'} ${first.image}`;
    const both = { start: first.startOffset, end: second ? end(second) : end(first) };
    return {
      code: 'unreadable',
      severity: 'error',
      span: spanOf(first),
      message: `The verb comes first: \`${turned}\`.`,
      ...(verb ? { mends: [writing(turned, both)] } : {}),
    };
  }
  if (isWord) {
    const meant = meantVerbs(first.image.toLowerCase());
    const message =
      meant.length > 0
        ? `\`${first.image}\` is no verb of the notation. Is it ${meant.map((near) => `\`${near}\``).join(' or ')}?`
        : `\`${first.image}\` is no verb of the notation: a line begins with what was done, such as \`graft\` or \`check\`.`;
    const span = spanOf(first);
    return {
      code: 'unknown-word',
      severity: 'error',
      span,
      message,
      ...(meant.length > 0 ? { mends: meant.map((near) => writing(near, span)) } : {}),
    };
  }
  const span: Span = { start: first.startOffset, end: end(tokens.at(-1) as IToken) };
  const name = /^\d+(?:\.\d+)?$/.test(first.image) && verb ? first.image : undefined;
  return {
    code: 'unreadable',
    severity: 'error',
    span: name ? spanOf(first) : span,
    message: name
      ? `Names start with a letter, and the verb comes first: \`${verb} B${name}\`.`
      : (noText(first.image) ??
        'A line begins with a date or with what was done, such as `graft K26.1`; a remark begins with `#`.'),
  };
}

/** What a word at a line's start may stand for: another word for it, a form of it (`opening`), or a slip of the hand. */
function meantVerbs(word: string): readonly string[] {
  const others = Object.hasOwn(nearVerbs, word) ? nearVerbs[word] : undefined;
  if (others) return others;
  const stem = word.replace(/(?:ing|ed|es|s)$/, '');
  const form = [stem, `${stem}e`, stem.replace(/(.)\1$/, '$1')].map((one) => verbWords.get(one)).find(Boolean);
  const near = (stem !== word && form) || nearest(word, verbWords.keys());
  return near ? [near] : [];
}
