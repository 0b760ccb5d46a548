import { expect, test } from 'vitest';
import { definition } from '#server/lsp/definition.ts';
import { documentHighlight } from '#server/lsp/document-highlight.ts';
import type { FileView } from '#server/lsp/feature.ts';
import { inlayHint } from '#server/lsp/inlay-hint.ts';
import { selectionRange } from '#server/lsp/selection-range.ts';
import { tokensIn } from '#server/lsp/semantic-tokens.ts';
import { folderOf } from '../support/view.ts';

/** So many days of ten lines on one batch, by one hand, at one place. */
const log = (days: number) =>
  `batch K26  in frame\nplace frame\n${Array.from(
    { length: days },
    (_, day) => `2026-10-09\n${`check K26.${day}  green  by mk\n`.repeat(8)}reading frame  min 1C\n`,
  ).join('')}`;

/** The same view; counts the lines that are looked at. */
function counting(view: FileView): { view: FileView; looked: () => number } {
  let count = 0;
  const entries = new Proxy(view.document.entries as object, {
    get(target, key) {
      if (typeof key === 'string' && /^\d+$/.test(key)) count++;
      return Reflect.get(target, key);
    },
  });
  const document = new Proxy(view.document, {
    get(target, key) {
      if (key === 'entries') return entries;
      if (key === 'entryAt') return (line: number) => (entries as FileView['document']['entries'])[line];
      const value = Reflect.get(target, key);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
  return { view: { ...view, document }, looked: () => count };
}

const range = { start: { line: 500, character: 0 }, end: { line: 560, character: 0 } };
const asks: Readonly<Record<string, (view: FileView) => unknown>> = {
  hints: (view) => inlayHint(view, range),
  colours: (view) => tokensIn(view, range),
  'highlight of a batch': (view) => documentHighlight(view, { line: 505, character: 7 }),
  'highlight of a hand': (view) => documentHighlight(view, { line: 505, character: 25 }),
  selection: (view) => selectionRange({ ...view }, [{ line: 505, character: 7 }]),
  definition: (view) => definition(view, { line: 505, character: 7 }, { links: true, pages: true }),
};

const views = [120, 1200].map((days) => folderOf(log(days), '2026-11-01').view());

test.each(Object.keys(asks))('%s looks at no more lines in a file ten times as long', (what) => {
  const [short = 0, long] = views.map((one) => {
    const { view, looked } = counting(one);
    asks[what]?.(view);
    return looked();
  });
  expect(short).toBeGreaterThan(0);
  expect(long).toBeLessThanOrEqual(short * 1.1);
});

test('a name that stands on every line is lit where one looks, not everywhere', () => {
  const [short, long] = views.map((view) => documentHighlight(view, { line: 505, character: 7 })?.length);
  expect(short).toBeGreaterThan(500);
  expect(long).toBe(short);
});
