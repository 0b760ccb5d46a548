import stringWidth from 'string-width';

/** Thousandths of the type's size: Helvetica, which Arial and Liberation Sans share (Adobe Font Metrics; from memory). */
const widths: Readonly<Record<string, number>> = rows(
  [191, "'’‘"],
  [222, 'ijl'],
  [278, ' !,./:;It\\f'],
  [333, '()-r'],
  [500, 'Jcksvxyz'],
  [556, '#$0123456789?Labdeghnopqu_'],
  [584, '+<=>×'],
  [611, 'FTZ'],
  [667, '&ABEKPSVXY'],
  [722, 'CDHNRUw'],
  [778, 'GOQ'],
  [833, 'Mm'],
  [944, 'W'],
  [1015, '@'],
);

function rows(...all: readonly (readonly [number, string])[]): Record<string, number> {
  return Object.fromEntries(all.flatMap(([width, letters]) => [...letters].map((letter) => [letter, width] as const)));
}

/** Of a text in parts of the type's size: times 9 it is points at 9 pt. Letters of other scripts are taken as wide ones. */
export function widthOf(text: string): number {
  let sum = 0;
  for (const letter of text)
    sum += widths[letter] ?? (stringWidth(letter) > 1 ? 1000 : stringWidth(letter) === 0 ? 0 : 700);
  return sum / 1000;
}

/** As much of a text as has room, an ellipsis for the rest. */
export function cutTo(text: string, room: number): string {
  if (widthOf(text) <= room) return text;
  let out = '';
  for (const letter of text) {
    if (widthOf(out + letter) + 1 > room) break;
    out += letter;
  }
  return `${out.trimEnd()}…`;
}
