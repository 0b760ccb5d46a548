/*
 * A figure is tried against eight patterns and a word against four. What each can't do without is a sign (a colon, an
 * `x`, a point behind the word): one look ahead tells which of them are there, and the others aren't tried.
 */

export const inchMark = 1;
export const dash = 2;
export const colon = 4;
/** A point or a slash. */
export const point = 8;
export const times = 16;
/** Two points, or a dash between figures. */
export const span = 32;
/** A point right behind a word. */
export const pointed = 64;
const everything = 127;

/** What may stand in a figure, a size or a span of them, units and blanks among it: behind anything else nothing is looked for. */
const inFigure = new Uint8Array(128);
for (const sign of '0123456789 \t.,/+-:"%mcinhdowkyFC') inFigure[sign.charCodeAt(0)] = 1;
const inWord = new Uint8Array(128);
for (let code = 48; code < 123; code++) if (/[\w-]/.test(String.fromCharCode(code))) inWord[code] = 1;
inWord[45] = 1;
inWord[39] = 1;

/** No further than any figure is long: on a line full of them all that follows would be looked through for each. */
const furthest = 60;

let seenText = '';
let seenAt = -1;
let seen = 0;

/** The signs ahead of a place in a line, as bits; of a line with letters beyond ASCII all of them may be there. */
export function signsAhead(text: string, offset: number): number {
  if (offset !== seenAt || text !== seenText) {
    const first = text.charCodeAt(offset);
    seen =
      (first >= 65 && first <= 90) || (first >= 97 && first <= 122) ? inAWord(text, offset) : inAFigure(text, offset);
    [seenText, seenAt] = [text, offset];
  }
  return seen;
}

function inAWord(text: string, offset: number): number {
  const last = Math.min(text.length, offset + furthest);
  for (let i = offset + 1; i < last; i++) {
    const code = text.charCodeAt(i);
    if (code > 127) return everything;
    if (inWord[code] === 0) return code === 46 ? everything : everything & ~pointed;
  }
  return last < text.length ? everything : everything & ~pointed;
}

function inAFigure(text: string, offset: number): number {
  let found = 0;
  const last = Math.min(text.length, offset + furthest);
  for (let i = offset; i < last; i++) {
    const code = text.charCodeAt(i);
    if (code > 127) return everything;
    if (code === 120) return found | times;
    if (inFigure[code] === 0) return found;
    if (code === 34) found |= inchMark;
    else if (code === 58) found |= colon;
    else if (code === 45 && i > offset) found |= dash | span;
    else if (code === 47) found |= point;
    else if (code === 46) found |= text.charCodeAt(i + 1) === 46 ? point | span : point;
  }
  return last < text.length ? everything : found;
}
