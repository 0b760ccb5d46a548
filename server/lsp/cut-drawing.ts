import { faceWidth } from '#server/engine/figures/cut-geometry.ts';

/** Lengths in mm. */
export interface DrawnCut {
  readonly diameter: number;
  readonly depth: number;
  /** How thick the scion is; it is drawn where it is told and where it is said what meets. */
  readonly scion?: number;
  readonly meets?: 'one' | 'both';
}

interface Palette {
  readonly ink: string;
  readonly hatch: string;
  readonly cambium: string;
  readonly wood: string;
  readonly scion: string;
  readonly ground: string;
  /** Of words beside the drawing; an image that doesn't know its ground has none, as they would not be read on one of them. */
  readonly legend: boolean;
}

const palettes: Readonly<Record<'light' | 'dark' | 'neutral', Palette>> = {
  light: {
    ink: '#1c2126',
    hatch: '#616d7a',
    cambium: '#7a5200',
    wood: '#e9e4da',
    scion: '#cfe0e8',
    ground: '#fff',
    legend: true,
  },
  dark: {
    ink: '#e8ebee',
    hatch: '#a4b1bf',
    cambium: '#f7e48c',
    wood: '#3a362f',
    scion: '#274350',
    ground: '#16191c',
    legend: true,
  },
  neutral: {
    ink: '#7d8790',
    hatch: '#7d8790',
    cambium: '#b07a1e',
    wood: 'none',
    scion: 'none',
    ground: 'none',
    legend: false,
  },
};

const [width, height] = [320, 152];
/** Where the section may stand, clear of the depth's letter at its left and of the words at its right. */
const room = { left: 42, right: 162, top: 4, bottom: 136 };
const branchWidth = 108;
/** Cambium under a bark of a tenth of the radius: a drawing's bark, not a measure. */
const barkShare = 0.1;

interface Frame {
  readonly cut: DrawnCut;
  readonly face: number;
  readonly colors: Palette;
  /** Pixels a mm. */
  readonly scale: number;
  /** Centre of the branch and its radius. */
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** Height of the face, half its width, and half the width from cambium to cambium. */
  readonly chord: number;
  readonly half: number;
  readonly met: number;
}

/**
 * Section across the branch, the cut side up, 108 px wide (less where a thick scion needs the room): what is cut away
 * hatched, the scion on the face with its left edge matched, both rings of cambium, a dot where edges meet and a ring
 * where they can't. As Markdown: an image whose words say the whole. `undefined` where there is no such cut.
 */
export function cutDrawing(cut: DrawnCut, theme: 'light' | 'dark' | undefined): string | undefined {
  const face = faceWidth(cut.diameter, cut.depth);
  if (face === null || face <= 0) return undefined;
  const frame = framed(cut, face, palettes[theme ?? 'neutral']);
  const wide = frame.colors.legend ? width : room.right + 6;
  const words = wordsOf(cut, face);
  const svg = [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}" height="${height}" font-family="sans-serif" font-size="12">`,
    `<title>${words}</title>`,
    `<pattern id="h" width="5" height="5" patternUnits="userSpaceOnUse"><path d="M-1 6L6-1" stroke="${frame.colors.hatch}"/></pattern>`,
    branch(frame),
    scion(frame),
    measures(frame),
    frame.colors.legend ? legend(frame) : '',
    '</svg>',
  ].join('');
  return `![${words}](data:image/svg+xml;base64,${base64(svg)}|width=${wide},height=${height})`;
}

function wordsOf({ diameter, depth, scion: thick, meets }: DrawnCut, face: number): string {
  const section = `Cross-section of a ${tenth(diameter)} mm branch cut ${tenth(depth)} mm deep, face ${tenth(face)} mm wide`;
  if (thick === undefined || !meets) return section;
  return `${section}, with a ${tenth(thick)} mm scion: ${meets === 'both' ? 'both edges meet' : 'one edge meets'}`;
}

/** As large as the look asks for, but for a scion that stands out above or beside the branch. */
function framed(cut: DrawnCut, face: number, colors: Palette): Frame {
  const { diameter, depth } = cut;
  const drawn = cut.meets ? (cut.scion ?? 0) : 0;
  const ring = halfRing(diameter, depth) ?? face / 2;
  const above = Math.max(0, drawn / 2 - depth);
  const beside = Math.max(0, drawn * (1 - barkShare / 2) - ring - diameter / 2);
  const scale = Math.min(
    branchWidth / diameter,
    (room.right - room.left) / (diameter + beside),
    (room.bottom - room.top) / (diameter + above),
  );
  const radius = (diameter * scale) / 2;
  const middle = Math.max(room.top + above * scale + radius, height / 2);
  const y = Math.min(middle, room.bottom - radius);
  return {
    cut,
    face,
    colors,
    scale,
    x: room.left + radius,
    y,
    radius,
    chord: y - radius + depth * scale,
    half: (face * scale) / 2,
    met: ring * scale,
  };
}

/** Half the chord that the face cuts out of the ring of cambium; nothing where the ring lies below or above the face. */
function halfRing(diameter: number, depth: number): number | undefined {
  const [radius, far] = [(diameter / 2) * (1 - barkShare), diameter / 2 - depth];
  return Math.abs(far) < radius ? Math.sqrt(radius ** 2 - far ** 2) : undefined;
}

/** What stays, open at its top; what is cut away over it; the ring of cambium, as far as it is left. */
function branch(frame: Frame): string {
  const { cut, x, y, radius, chord, half, met, colors } = frame;
  const [from, to] = [x - half, x + half];
  // over the centre the larger arc stays, below it the smaller
  const large = chord < y ? 1 : 0;
  const stays = `M${n(from)} ${n(chord)}A${n(radius)} ${n(radius)} 0 ${large} 0 ${n(to)} ${n(chord)}Z`;
  const away = `M${n(from)} ${n(chord)}A${n(radius)} ${n(radius)} 0 ${1 - large} 1 ${n(to)} ${n(chord)}`;
  const inner = radius * (1 - barkShare);
  const ring =
    halfRing(cut.diameter, cut.depth) !== undefined
      ? `M${n(x - met)} ${n(chord)}A${n(inner)} ${n(inner)} 0 ${large} 0 ${n(x + met)} ${n(chord)}`
      : chord < y
        ? `M${n(x - inner)} ${n(y)}a${n(inner)} ${n(inner)} 0 1 0 ${n(2 * inner)} 0a${n(inner)} ${n(inner)} 0 1 0 ${n(-2 * inner)} 0`
        : '';
  return [
    `<path d="${stays}" fill="${colors.wood}" stroke="${colors.ink}" stroke-width="1.5"/>`,
    `<path d="${away}" fill="url(#h)" stroke="${colors.hatch}" stroke-dasharray="3 3"/>`,
    ring ? `<path d="${ring}" fill="none" stroke="${colors.cambium}" stroke-width="2"/>` : '',
  ].join('');
}

/** Half a round, its flat side on the face; its cambium begins where that of the branch does. */
function scion({ cut, x, chord, scale, met, colors }: Frame): string {
  if (cut.scion === undefined || !cut.meets) return '';
  const outer = (cut.scion * scale) / 2;
  const inner = outer * (1 - barkShare);
  const dome = (from: number, r: number, paint: string) =>
    `<path d="M${n(from)} ${n(chord)}a${n(r)} ${n(r)} 0 0 1 ${n(2 * r)} 0Z" ${paint}/>`;
  const mark = (at: number, fill: string) =>
    `<circle cx="${n(at)}" cy="${n(chord)}" r="4" fill="${fill}" stroke="${colors.ink}" stroke-width="1.5"/>`;
  return [
    dome(x - met - (outer - inner), outer, `fill="${colors.scion}" stroke="${colors.ink}" stroke-width="1.5"`),
    dome(x - met, inner, `fill="none" stroke="${colors.cambium}" stroke-width="2"`),
    mark(x - met, colors.ink),
    mark(x + met, cut.meets === 'both' ? colors.ink : colors.ground),
  ].join('');
}

/** Depth at the left of the branch, width of the face below it, each with its letter. */
function measures({ x, y, radius, chord, half, colors }: Frame): string {
  const at = room.left - 12;
  const [top, bottom] = [y - radius, y + radius];
  // where little is left of the branch the width stands below it
  const inside = chord + 36 < bottom;
  const under = inside ? chord + 16 : bottom + 8;
  const line = (d: string) => `<path d="${d}" stroke="${colors.ink}" fill="none"/>`;
  const letter = (lx: number, ly: number, is: string, anchor: string) =>
    `<text x="${n(lx)}" y="${n(ly)}" text-anchor="${anchor}" fill="${colors.ink}" font-weight="bold">${is}</text>`;
  return [
    line(`M${at} ${n(top)}V${n(chord)}M${at - 4} ${n(top)}h8M${at - 4} ${n(chord)}h8`),
    letter(at - 8, (top + chord) / 2 + 4, 'h', 'end'),
    line(
      `M${n(x - half)} ${n(under)}H${n(x + half)}M${n(x - half)} ${n(under - 4)}v8M${n(x + half)} ${n(under - 4)}v8`,
    ),
    inside ? letter(x, under + 15, 'c', 'middle') : letter(x + half + 8, under + 4, 'c', 'start'),
  ].join('');
}

/** The letters' figures, what the marks are, and a bar to measure by. */
function legend({ cut, face, scale, colors }: Frame): string {
  const left = room.right + 10;
  const text = (y: number, words: string) => `<text x="${left}" y="${y}" fill="${colors.ink}">${words}</text>`;
  const bold = (letter: string) => `<tspan font-weight="bold">${letter}</tspan>`;
  const share = Math.round((100 * cut.depth) / cut.diameter);
  const bar = [5, 2, 1, 10, 20, 50, 100].find((mm) => mm * scale >= 12 && mm * scale <= 90) ?? 5;
  const end = left + bar * scale;
  return [
    text(30, `${bold('h')} ${tenth(cut.depth)} mm, ${share} % of ${tenth(cut.diameter)}`),
    text(49, `${bold('c')} ${tenth(face)} mm, at bottom`),
    text(68, 'hatched: cut away'),
    cut.scion !== undefined && cut.meets ? text(87, '&#9679; edge meets') : '',
    cut.scion !== undefined && cut.meets === 'one' ? text(106, '&#9675; edge can&#8217;t meet') : '',
    `<path d="M${left} 128H${n(end)}M${left} 124v8M${n(end)} 124v8" stroke="${colors.ink}" fill="none"/>`,
    `<text x="${n(end + 8)}" y="132" fill="${colors.ink}">${bar} mm</text>`,
  ].join('');
}

const tenth = (figure: number): string => String(Math.round(figure * 10) / 10);
const n = tenth;

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
