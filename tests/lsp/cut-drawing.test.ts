import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { faceWidth } from '#server/engine/figures/cut-geometry.ts';
import { cutDrawing, type DrawnCut } from '#server/lsp/cut-drawing.ts';

const svgOf = (image: string | undefined) =>
  Buffer.from(/base64,([^|]*)\|/.exec(image ?? '')?.[1] ?? '', 'base64').toString('utf8');
const textsOf = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>(.*?)<\/text>/g)].map(([, text = '']) =>
    text.replace(/<[^>]*>/g, '').replace(/&#(\d+);/g, (_, code) => String.fromCodePoint(Number(code))),
  );
const usual: DrawnCut = { diameter: 9, depth: 3.6, scion: 4, meets: 'one' };

describe('a section in figures', () => {
  test('9 mm cut 3.6 mm deep has a face of 8.8 mm; the bar is 5 mm', () => {
    const svg = svgOf(cutDrawing(usual, 'light'));
    expect(textsOf(svg)).toEqual([
      'h',
      'c',
      'h 3.6 mm, 40 % of 9',
      'c 8.8 mm, at bottom',
      'hatched: cut away',
      '● edge meets',
      '○ edge can’t meet',
      '5 mm',
    ]);
    // 12 px a mm: the branch is 108 px wide, the face 8.818 of them, the cut 43.2 px deep
    const line = (pattern: RegExp) => pattern.exec(svg)?.slice(1).map(Number) ?? [];
    const [from = 0, to = 0] = line(/<path d="M([\d.]+) [\d.]+H([\d.]+)M/);
    expect(to - from).toBeCloseTo((faceWidth(9, 3.6) ?? Number.NaN) * 12, 0);
    const [top = 0, bottom = 0] = line(/<path d="M\d+ ([\d.]+)V([\d.]+)M/);
    expect(bottom - top).toBeCloseTo(43.2, 1);
    expect(svg).toMatch(/A54 54 0 1 0/);
  });

  test('the words of the image say the whole', () => {
    const words = (cut: DrawnCut) => /^!\[([^\]]*)\]/.exec(cutDrawing(cut, 'dark') ?? '')?.[1];
    expect(words(usual)).toBe(
      'Cross-section of a 9 mm branch cut 3.6 mm deep, face 8.8 mm wide, with a 4 mm scion: one edge meets',
    );
    expect(words({ ...usual, scion: 8, meets: 'both' })).toContain('with a 8 mm scion: both edges meet');
    expect(words({ diameter: 9, depth: 2 })).toBe('Cross-section of a 9 mm branch cut 2 mm deep, face 7.5 mm wide');
    expect(svgOf(cutDrawing(usual, undefined))).toContain(
      '<title>Cross-section of a 9 mm branch cut 3.6 mm deep, face 8.8 mm wide, with a 4 mm scion: one edge meets</title>',
    );
  });

  test('a dot where edges meet, a ring where they can’t, neither where nobody said', () => {
    const circles = (cut: DrawnCut) =>
      [...svgOf(cutDrawing(cut, 'light')).matchAll(/<circle[^>]*fill="([^"]*)"/g)].map(([, fill]) => fill);
    expect(circles(usual)).toEqual(['#1c2126', '#fff']);
    expect(circles({ ...usual, scion: 8, meets: 'both' })).toEqual(['#1c2126', '#1c2126']);
    expect(circles({ diameter: 9, depth: 3.6 })).toEqual([]);
  });
});

describe('as it is sent', () => {
  test('an image of no blanks, small enough for a hover; without a theme narrower and of two letters only', () => {
    for (const theme of ['light', 'dark', undefined] as const) {
      const image = cutDrawing({ diameter: 12, depth: 5, scion: 5, meets: 'one' }, theme) ?? '';
      expect(image).toMatch(
        /^!\[[^\][]+\]\(data:image\/svg\+xml;base64,[A-Za-z0-9+/]+=*\|width=(320|168),height=152\)$/,
      );
      expect(image.length).toBeLessThan(8000);
    }
    expect(textsOf(svgOf(cutDrawing(usual, undefined)))).toEqual(['h', 'c']);
  });

  /** Contrast of two colours: Web Content Accessibility Guidelines 2.2, relative luminance. */
  const luminance = (color: string) => {
    const hex = color.length === 4 ? color.slice(1).replace(/./g, '$&$&') : color.slice(1);
    const [r = 0, g = 0, b = 0] = [0, 2, 4].map((at) => {
      const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a: string, b: string) => {
    const [dark = 0, bright = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (bright + 0.05) / (dark + 0.05);
  };

  test.each([
    ['light', ['#ffffff', '#f8f8f8'], 4.5],
    ['dark', ['#1f1f1f', '#16191c'], 4.5],
    // marks, not letters to be read: 3:1 on either ground
    [undefined, ['#ffffff', '#f8f8f8', '#1f1f1f'], 3],
  ] as const)('theme %s: lines and letters stand out from the ground', (theme, grounds, least) => {
    const svg = svgOf(cutDrawing(usual, theme));
    const drawn = new Set(
      [...svg.matchAll(/stroke="(#[^"]*)"|<text[^>]*fill="(#[^"]*)"/g)].map((one) => one[1] ?? one[2]),
    );
    expect(drawn.size).toBeGreaterThan(1);
    for (const color of drawn)
      for (const ground of grounds) expect(contrast(color ?? '', ground)).toBeGreaterThanOrEqual(least);
  });
});

test('what can’t be cut isn’t drawn', () => {
  const odd = [
    { diameter: 9, depth: 9 },
    { diameter: 9, depth: 0 },
    { diameter: 0, depth: 0 },
    { diameter: Number.NaN, depth: 1 },
  ];
  expect(odd.map((cut) => cutDrawing(cut, 'light'))).toEqual([undefined, undefined, undefined, undefined]);
});

test('any branch, cut and scion stay within the picture, and no figure is missing', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2, max: 150, noNaN: true }),
      fc.double({ min: 0.02, max: 0.95, noNaN: true }),
      fc.option(fc.double({ min: 1, max: 25, noNaN: true }), { nil: undefined }),
      fc.constantFrom('one', 'both'),
      fc.constantFrom('light', undefined),
      (diameter, share, scion, meets, theme) => {
        const cut = { diameter, depth: diameter * share, ...(scion === undefined ? {} : { scion, meets }) };
        const image = cutDrawing(cut as DrawnCut, theme) ?? '';
        const svg = svgOf(image);
        expect(image.length).toBeLessThan(8000);
        expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
        const wide = theme ? 320 : 168;
        for (const [, x = '', y = ''] of svg.matchAll(/<circle cx="([^"]*)" cy="([^"]*)"/g)) {
          expect(Number(x)).toBeGreaterThanOrEqual(4);
          expect(Number(x)).toBeLessThanOrEqual(wide - 4);
          expect(Number(y)).toBeLessThanOrEqual(148);
        }
        // every arc: begins and ends inside, and so does the top of the scion's half round
        for (const [, x = '', y = '', r = ''] of svg.matchAll(/M([\d.-]+) ([\d.-]+)a([\d.]+) [\d.]+ 0 0 1/g)) {
          expect(Number(x)).toBeGreaterThanOrEqual(0);
          expect(Number(x) + 2 * Number(r)).toBeLessThanOrEqual(168);
          expect(Number(y) - Number(r)).toBeGreaterThanOrEqual(0);
        }
      },
    ),
    { numRuns: 300 },
  );
});
