import type { NextTry } from '#server/engine/figures/try-next.ts';
import { nextSentence } from '#server/engine/figures/words.ts';
import { bullet, type TextPart } from './text-page.ts';

/** At most three, so that the record can tell more next year. */
export function nextPart(next: readonly NextTry[]): TextPart[] {
  return next.length === 0 ? [] : [{ head: 'What to try next', lines: next.map(nextSentence).flatMap(bullet) }];
}
