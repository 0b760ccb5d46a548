import { faceWidth } from '#server/engine/figures/cut-geometry.ts';

/** What is drawn: the branch's diameter and the cut's depth in mm, and how thick the scion is, if it is told. */
export interface DrawnCut {
  readonly diameter: number;
  readonly depth: number;
  readonly scion?: number;
}

interface Palette {
  readonly ink: string;
  readonly mute: string;
  readonly scion: string;
  /** An image can't see the theme: where nobody told it, letters would not be seen on one ground or the other. */
  readonly letters: boolean;
}

const palettes: Readonly<Record<'light' | 'dark' | 'neutral', Palette>> = {
  light: { ink: '#1c2126', mute: '#4d555e', scion: '#1e4564', letters: true },
  dark: { ink: '#e8ebee', mute: '#b4bcc5', scion: '#a5f0f2', letters: true },
  neutral: { ink: '#7d8790', mute: '#7d8790', scion: '#7d8790', letters: false },
};

const [width, height, radius, left, top] = [320, 152, 54, 68, 88];

/**
 * Section across the branch, the cut side up, scaled so that the branch is 108 px wide; the scion lies on the face with
 * its left edge matched. Every figure in it stands in words beside it. `undefined` where there is no such cut.
 */
export function cutDrawing(cut: DrawnCut, theme: 'light' | 'dark' | undefined): string | undefined {
  const face = faceWidth(cut.diameter, cut.depth);
  if (face === null || face <= 0) return undefined;
  const colors = palettes[theme ?? 'neutral'];
  const scale = (2 * radius) / cut.diameter;
  const chord = top - radius + cut.depth * scale;
  const [from, to] = [left - (face * scale) / 2, left + (face * scale) / 2];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" font-family="sans-serif" font-size="12">${[
    `<defs><pattern id="x" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V5" stroke="${colors.mute}"/></pattern></defs>`,
    wood(chord, from, to, colors),
    scion(cut, scale, chord, from, colors),
    marks(cut, face, chord, from, to, colors),
    measures(cut, face, scale, chord, from, to, colors),
  ].join('')}</svg>`;
  return `data:image/svg+xml;base64,${base64(svg)}|width=${width},height=${height}`;
}

/** What stays: a disc with its cambium ring, the segment cut away hatched. */
function wood(chord: number, from: number, to: number, { ink, mute }: Palette): string {
  const large = chord > top ? 0 : 1;
  const stays = `M${n(from)} ${n(chord)}A${radius} ${radius} 0 ${large} 0 ${n(to)} ${n(chord)}Z`;
  const away = `M${n(from)} ${n(chord)}A${radius} ${radius} 0 ${1 - large} 1 ${n(to)} ${n(chord)}Z`;
  return `<path d="${away}" fill="url(#x)" stroke="${mute}" stroke-dasharray="3 2"/><path d="${stays}" fill="none" stroke="${ink}" stroke-width="2"/><path d="${stays}" fill="none" stroke="${ink}" transform="translate(${n(left * 0.08)} ${n(chord * 0.05 + top * 0.03)}) scale(.92)" opacity=".6"/>`;
}

/** The scion, flat side on the face. */
function scion(
  { scion: thick }: DrawnCut,
  scale: number,
  chord: number,
  from: number,
  { scion: color }: Palette,
): string {
  if (thick === undefined) return '';
  const wide = thick * scale;
  const half = (x: number, w: number) =>
    `<path d="M${n(x)} ${n(chord)}a${n(w / 2)} ${n(w / 2)} 0 0 1 ${n(w)} 0Z" fill="none" stroke="${color}"`;
  return `${half(from, wide)} stroke-width="2"/>${half(from + wide * 0.08, wide * 0.84)} opacity=".6"/>`;
}

/** A dot where an edge of the scion meets one of the face, a ring where it can't. */
function marks(
  { scion: thick }: DrawnCut,
  face: number,
  chord: number,
  from: number,
  to: number,
  { ink }: Palette,
): string {
  if (thick === undefined) return '';
  const meets = edgesMeet(face, thick);
  const mark = (x: number, filled: boolean) =>
    `<circle cx="${n(x)}" cy="${n(chord)}" r="3.5" stroke="${ink}" fill="${filled ? ink : 'none'}"/>`;
  return mark(from, true) + mark(to, meets);
}

/** Within a third the bark's give lets both edges meet (practice line `match-ratio`, house default). */
export const edgesMeet = (face: number, thick: number): boolean => thick / face >= 0.7 && thick / face <= 1.3;

function measures(
  cut: DrawnCut,
  face: number,
  scale: number,
  chord: number,
  from: number,
  to: number,
  colors: Palette,
): string {
  const { ink, mute, letters } = colors;
  const x = left + radius + 14;
  const line = (d: string) => `<path d="${d}" stroke="${mute}" fill="none"/>`;
  const text = (at: number, y: number, words: string, color = ink) =>
    letters ? `<text x="${n(at)}" y="${n(y)}" fill="${color}">${words}</text>` : '';
  const bar = 5 * scale;
  return [
    line(`M${x} ${top - radius}V${n(chord)}M${x - 4} ${top - radius}h8M${x - 4} ${n(chord)}h8`),
    line(`M${n(from)} ${n(chord + 12)}H${n(to)}M${n(from)} ${n(chord + 8)}v8M${n(to)} ${n(chord + 8)}v8`),
    letters ? text(x + 8, (top - radius + chord) / 2 + 4, 'h') + text(left - 3, chord + 26, 'c') : '',
    text(
      168,
      40,
      `h ${tenth(cut.depth)} mm, ${Math.round((100 * cut.depth) / cut.diameter)} % of ${tenth(cut.diameter)}`,
    ),
    text(168, 58, `c ${tenth(face)} mm, at bottom`),
    text(168, 76, 'hatched: cut away', mute),
    cut.scion === undefined ? '' : text(168, 94, '&#9679; edge meets &#9675; can&#8217;t', mute),
    bar <= 140 ? line(`M168 112h${n(bar)}M168 108v8M${n(168 + bar)} 108v8`) + text(168, 130, '5 mm', mute) : '',
  ].join('');
}

const tenth = (figure: number) => String(Math.round(figure * 10) / 10);
const n = (figure: number) => String(Math.round(figure * 10) / 10);

const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Base64 of plain ASCII: Markdown shows no picture whose address holds blanks or brackets. */
function base64(text: string): string {
  const bytes = [...text].map((letter) => letter.charCodeAt(0));
  let out = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const [a = 0, b, c] = [bytes[i], bytes[i + 1], bytes[i + 2]];
    const bits = (a << 16) | ((b ?? 0) << 8) | (c ?? 0);
    out += digits[bits >> 18] ?? '';
    out += digits[(bits >> 12) & 63] ?? '';
    out += b === undefined ? '=' : (digits[(bits >> 6) & 63] ?? '');
    out += c === undefined ? '=' : (digits[bits & 63] ?? '');
  }
  return out;
}
