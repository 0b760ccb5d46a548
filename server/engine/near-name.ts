import { nearest } from '#grammar/vocabulary.ts';

/** From this length on two slips are still the same word to a reader. */
const longWord = 6;
/** So many likely words are compared letter by letter. */
const compared = 500;
const letters = 'abcdefghijklmnopqrstuvwxyz0123456789-';

/**
 * The name a misspelt one stands for. One slip is looked up, not searched: a log with thousands of names costs no more
 * than a small one.
 * @param names all there are, asked for only where one slip doesn't explain a long word
 */
export function nearName(
  word: string,
  isName: (key: string) => boolean,
  names: () => Iterable<string>,
): string | undefined {
  if (word.length < 2) return undefined;
  for (const variant of oneSlip(word)) if (isName(variant)) return variant;
  if (word.length < longWord) return undefined;
  const like: string[] = [];
  const wanted = signature(word);
  for (const key of names()) {
    if (Math.abs(key.length - word.length) > 2 || bits(signature(key) ^ wanted) > 4 || !isName(key)) continue;
    if (like.push(key) === compared) break;
  }
  return nearest(word, like);
}

/** Neighbours swapped, one letter wrong, one too many, one left out. */
function* oneSlip(word: string): Generator<string> {
  const at = (i: number, by: string, over: number) => word.slice(0, i) + by + word.slice(i + over);
  for (let i = 1; i < word.length; i++) if (word[i] !== word[i - 1]) yield at(i - 1, `${word[i]}${word[i - 1]}`, 2);
  for (let i = 0; i < word.length; i++) for (const letter of letters) if (letter !== word[i]) yield at(i, letter, 1);
  for (let i = 0; i < word.length; i++) yield at(i, '', 1);
  for (let i = 0; i <= word.length; i++) for (const letter of letters) yield at(i, letter, 0);
}

/** Which letters and figures a word has, by the last five bits of each: two slips change at most four of them. */
function signature(word: string): number {
  let found = 0;
  for (let i = 0; i < word.length; i++) found |= 1 << (word.charCodeAt(i) & 31);
  return found;
}

function bits(mask: number): number {
  let count = 0;
  for (let rest = mask; rest !== 0; rest &= rest - 1) count++;
  return count;
}
