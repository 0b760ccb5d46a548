/*
 * Nine of ten stretches of a log are tidy, and to find that out by taking them apart is most of the work of laying a log
 * out. So the common ones are told by their signs: words, figures with their units, sets of grafts in their canonical
 * spelling, texts, one blank between them. What isn't known to be tidy is taken apart.
 */

/** Whether a stretch of a line is certainly as `tidy` would write it, whatever it is part of. */
export function isTidy(text: string, start: number, end: number): boolean {
  for (let at = start; at < end; ) {
    const stop = pieceEnd(text, at, end);
    if (stop === end) return true;
    if (stop < 0 || text.charCodeAt(stop) !== blank) return false;
    at = stop + 1;
  }
  return false;
}

const [blank, quote, percent, apostrophe, comma, hyphen, dot, slash] = Array.from(` "%',-./`, (sign) =>
  sign.charCodeAt(0),
) as [number, number, number, number, number, number, number, number];
const [x, nought] = [120, 48];

const isDigit = (code: number) => code >= 48 && code <= 57;
const isLetter = (code: number) => (code >= 97 && code <= 122) || (code >= 65 && code <= 90);

/** Where a piece that stays as it is ends; -1 where it may not stay, or what follows it may join it. */
function pieceEnd(text: string, at: number, end: number): number {
  const code = text.charCodeAt(at);
  if (isLetter(code)) return wordsEnd(text, at, end);
  if (isDigit(code)) return figureEnd(text, at, end);
  if (code === quote || code === apostrophe) return quoted(text, at, end);
  return code === slash ? at + 1 : -1;
}

/** `"too thin"`, `'Tenysu'`; an apostrophe before a letter stands within the name. */
function quoted(text: string, at: number, end: number): number {
  const close = text.indexOf(text.charAt(at), at + 1);
  return close > at && close < end && (close + 1 === end || text.charCodeAt(close + 1) === blank) ? close + 1 : -1;
}

/** Words and sets with nothing but commas between them: `mk,jo`, `K26.1..8,12`. */
function wordsEnd(text: string, start: number, end: number): number {
  for (let at = start; ; at++) {
    // `x` is a sign as well as a letter, and no part of a list
    const isSign = text.charCodeAt(at) === x;
    at = wordEnd(text, at, end);
    if (at > 0 && at < end && text.charCodeAt(at) === dot) {
      const stop = numbersEnd(text, at + 1, end);
      // behind numbers with a comma a figure, a unit or a count may belong to them
      if (stop < end && text.charCodeAt(stop) === blank && text.lastIndexOf(',', stop) > at) return -1;
      at = stop;
    }
    if (at < 0 || at >= end || text.charCodeAt(at) !== comma) return at;
    if (isSign || !isLetter(text.charCodeAt(at + 1)) || text.charCodeAt(at + 1) === x) return -1;
  }
}

/** Letters and figures, single hyphens among them. `mar-1` may be a day of the year, which is written with two figures. */
function wordEnd(text: string, start: number, end: number): number {
  let part = start;
  let at = start;
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (isLetter(code) || isDigit(code)) continue;
    if (code !== hyphen) break;
    const next = at + 1 < end ? text.charCodeAt(at + 1) : Number.NaN;
    if (!isLetter(next) && !isDigit(next)) return -1;
    const oneFigure = isDigit(next) && !(at + 2 < end && isDigit(text.charCodeAt(at + 2)));
    if (oneFigure && at - part === 3) return -1;
    part = at + 1;
  }
  return at;
}

/** `1..8,12` behind the dot of a set, each range from the lower number up. */
function numbersEnd(text: string, start: number, end: number): number {
  for (let at = start; ; at++) {
    let stop = digitsEnd(text, at, end);
    if (stop === at) return -1;
    if (stop + 2 < end && text.charCodeAt(stop) === dot && text.charCodeAt(stop + 1) === dot) {
      const high = stop + 2;
      const last = digitsEnd(text, high, end);
      if (last === high || !isRising(text, at, stop, high, last)) return -1;
      stop = last;
    }
    at = stop;
    if (at >= end || text.charCodeAt(at) !== comma || !isDigit(text.charCodeAt(at + 1))) return at;
  }
}

/** Of two numbers without noughts before them the longer is the higher. */
function isRising(text: string, low: number, lowEnd: number, high: number, highEnd: number): boolean {
  const more = highEnd - high - (lowEnd - low);
  if (text.charCodeAt(low) === nought || text.charCodeAt(high) === nought) return false;
  if (more !== 0) return more > 0;
  let at = 0;
  while (low + at < lowEnd && text.charCodeAt(low + at) === text.charCodeAt(high + at)) at++;
  return low + at === lowEnd || text.charCodeAt(low + at) < text.charCodeAt(high + at);
}

/** `40%`, `0.5mm`; of a size only the sides: `4mm x 90mm`. A blank may join it to a unit, a fraction or the other end of a range. */
function figureEnd(text: string, start: number, end: number): number {
  let at = digitsEnd(text, start, end);
  if (at + 1 < end && text.charCodeAt(at) === dot) {
    const stop = digitsEnd(text, at + 1, end);
    if (stop === at + 1) return -1;
    at = stop;
  }
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code === x || !(isLetter(code) || code === percent)) break;
  }
  const sized = at + 3 < end && text.startsWith(' x ', at) && isDigit(text.charCodeAt(at + 3));
  return at === end || sized ? at : -1;
}

function digitsEnd(text: string, start: number, end: number): number {
  let at = start;
  while (at < end && isDigit(text.charCodeAt(at))) at++;
  return at;
}
