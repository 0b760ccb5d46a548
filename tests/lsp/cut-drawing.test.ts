import { expect, test } from 'vitest';
import { cutDrawing } from '#server/lsp/cut-drawing.ts';

const svgOf = (image: string | undefined) =>
  Buffer.from(/base64,([^|]*)\|/.exec(image ?? '')?.[1] ?? '', 'base64').toString('utf8');

test('a section in figures: 9 mm cut 3.6 mm deep has a face of 8.8 mm', () => {
  const svg = svgOf(cutDrawing({ diameter: 9, depth: 3.6, scion: 4 }, 'light'));
  expect(svg).toContain('h 3.6 mm, 40 % of 9');
  expect(svg).toContain('c 8.8 mm, at bottom');
  expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="320" height="152"/);
});

test('one edge meets where the scion is narrower than the face, both where it is as wide', () => {
  const rings = (scion: number) =>
    svgOf(cutDrawing({ diameter: 9, depth: 3.6, scion }, 'light')).match(/<circle[^>]*fill="none"/g)?.length ?? 0;
  expect([rings(4), rings(8)]).toEqual([1, 0]);
});

test('small enough for a hover, and no letters where the theme is unknown', () => {
  const image = cutDrawing({ diameter: 12, depth: 5, scion: 5 }, 'dark') ?? '';
  expect(image.length).toBeLessThan(8000);
  expect(image).not.toMatch(/[\s()]/);
  expect(svgOf(cutDrawing({ diameter: 12, depth: 5, scion: 5 }, undefined))).not.toContain('<text');
});

test('what can’t be cut isn’t drawn', () => {
  expect([cutDrawing({ diameter: 9, depth: 9 }, 'light'), cutDrawing({ diameter: 9, depth: 0 }, 'light')]).toEqual([
    undefined,
    undefined,
  ]);
});
