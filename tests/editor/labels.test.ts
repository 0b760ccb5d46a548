import jsQR from 'jsqr';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type LabelSize, type LabelSizeName, labelSizes } from '#server/report/label-sizes.ts';
import { terminal } from '../support/terminal.ts';
import { browserPath } from './browser.ts';

const long = 'Verylongbatchname2026forthewholefield';
const log = `batch  K26  Pinus parviflora 'Tenysu' / Pinus thunbergii  side-veneer
batch  M26  Metasequoia glyptostroboides 'A Cultivar With A Name That Goes On For Longer Than A Label' / Metasequoia glyptostroboides  side-veneer
batch  ${long}  Pinus parviflora var. pentaphylla / Pinus × densithunbergii  cleft
2026-10-10
graft  K26.1..120
graft  M26.1
graft  ${long}.998
`;
const { get, put, run } = terminal();
/** A page the built command line wrote, and how many sheets it says there are. */
function pageOf(of: string, size: LabelSizeName) {
  put('log.graft', log);
  const { err } = run(['labels', '--on', '2027-04-06', '--of', of, '--size', size, '--out', 'labels.html']);
  return { html: get('labels.html'), sheets: Number(/ on (\d+) sheet/.exec(err)?.[1]) };
}

let browser: Browser;
let page: Page;
beforeAll(async () => {
  const executablePath = browserPath();
  if (!executablePath) throw new Error('No browser found: set GRAFTLOG_BROWSER.');
  browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  page = await browser.newPage({ viewport: { width: 794, height: 1123 }, deviceScaleFactor: 2 });
  await page.emulateMedia({ media: 'print' });
});
afterAll(() => browser?.close());

const sizes = Object.keys(labelSizes) as LabelSizeName[];

test.each(sizes)('%s: words stay inside of their label, however long; sheets are pages', async (size) => {
  for (const of of ['K26', 'M26', long]) {
    const { html, sheets } = pageOf(of, size);
    await page.setContent(html);
    const beyond = await page.evaluate(() =>
      [...document.querySelectorAll('.words')].flatMap((words) => {
        const room = words.parentElement?.getBoundingClientRect();
        const most = [...words.querySelectorAll('p')].map((line) => line.getBoundingClientRect());
        return most.filter((line) => room && (line.bottom > room.bottom - 2 || line.right > room.right - 2)).length;
      }),
    );
    expect(
      beyond.filter((count) => count > 0),
      of,
    ).toEqual([]);
    const pdf = (await page.pdf({ preferCSSPageSize: true, format: 'A4' })).toString('latin1');
    expect(pdf.match(/\/Type \/Page\b(?!s)/g)?.length, of).toBe(sheets);
  }
});

test.each(sizes.filter((size) => 'code' in labelSizes[size]))(
  '%s: measures on paper; a picture of the label can be read',
  async (size) => {
    const row: LabelSize = labelSizes[size];
    await page.setContent(pageOf('K26.12', size).html);
    const box = await page.locator('.label').first().boundingBox();
    const millimetre = 96 / 25.4;
    expect((box?.width ?? 0) / millimetre).toBeCloseTo(row.width, 1);
    expect((box?.height ?? 0) / millimetre).toBeCloseTo(row.height, 1);
    expect((box?.x ?? 0) / millimetre).toBeCloseTo(row.left, 1);
    expect((box?.y ?? 0) / millimetre).toBeCloseTo(row.top, 1);
    const code = await page.locator('.code').first().boundingBox();
    expect((code?.width ?? 0) / millimetre).toBeCloseTo(row.code?.side ?? 0, 1);
    const picture = (await page.locator('.code').first().screenshot()).toString('base64');
    const blank = await browser.newPage();
    const { data, width, height } = await blank.evaluate(async (png) => {
      const bitmap = await createImageBitmap(await (await fetch(`data:image/png;base64,${png}`)).blob());
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const context = canvas.getContext('2d');
      context?.drawImage(bitmap, 0, 0);
      const pixels = context?.getImageData(0, 0, bitmap.width, bitmap.height);
      return { data: [...(pixels?.data ?? [])], width: bitmap.width, height: bitmap.height };
    }, picture);
    await blank.close();
    expect(jsQR(Uint8ClampedArray.from(data), width, height)?.data).toMatch(/^K26\.12 2026-10-10\b/);
  },
);
