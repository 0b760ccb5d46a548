import { readFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { labelSizes } from '#server/report/label-sizes.ts';
import { terminal } from '../support/terminal.ts';
import { browserPath } from './browser.ts';
import { passedOver } from './workbench.ts';

/* The pages of the example nursery in a browser, the season report also on paper. Pictures lie in `.pictures/`. */

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const pictures = resolve('.pictures');

interface AxeFinding {
  readonly id: string;
  readonly impact: string;
  readonly nodes: readonly { readonly html: string }[];
}

describe.skipIf(passedOver)('pages that are shown and printed', () => {
  const { run } = terminal();
  let browser: Browser;
  let html = '';
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: browserPath() ?? '', args: ['--no-sandbox'] });
    await mkdir(pictures, { recursive: true });
  });
  afterAll(() => browser.close());

  /** Shown from its text: whatever it asked for beyond that would be a request. */
  async function shown(
    options: BrowserContextOptions,
  ): Promise<{ page: Page; requests: string[]; close(): Promise<void> }> {
    html ||= run(['report', resolve('examples/drumlin-lane'), '--on', '2025-06-20', '--hours', '3', '--out', '-']).out;
    const context = await browser.newContext({ ...options, bypassCSP: true });
    const page = await context.newPage();
    const requests: string[] = [];
    page.on('request', (request) => requests.push(request.url()));
    await page.setContent(html);
    return { page, requests, close: () => context.close() };
  }

  async function accessibilityOf(page: Page): Promise<string[]> {
    await page.evaluate(axe);
    const found = await page.evaluate(async () => {
      const { axe } = globalThis as unknown as { axe: { run(): Promise<{ violations: AxeFinding[] }> } };
      return (await axe.run()).violations;
    });
    return found.map(({ id, impact, nodes }) => `${id} (${impact}): ${nodes[0]?.html}`);
  }

  const screens: readonly (readonly [string, BrowserContextOptions])[] = [
    ['light', { viewport: { width: 1000, height: 900 } }],
    ['dark', { viewport: { width: 1000, height: 900 }, colorScheme: 'dark' }],
    ['high-contrast', { viewport: { width: 1000, height: 900 }, colorScheme: 'dark', forcedColors: 'active' }],
    ['phone', { viewport: { width: 320, height: 700 } }],
    ['phone-dark', { viewport: { width: 320, height: 700 }, colorScheme: 'dark' }],
  ];
  test.each(screens)(
    '%s: nothing an accessibility check finds, no request, no scrolling sideways',
    async (name, options) => {
      const { page, requests, close } = await shown(options);
      expect(await accessibilityOf(page)).toEqual([]);
      expect(requests).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      await page.screenshot({ path: join(pictures, `report-${name}.png`), fullPage: true });
      await close();
    },
  );

  test.each([320, 900])('the bench sheet in a window of %d px: as accessible, no scrolling sideways', async (wide) => {
    const sheet = run(['sheet', resolve('examples/drumlin-lane'), '--on', '2025-06-20', '--out', '-']).out;
    const page = await browser.newPage({ viewport: { width: wide, height: 700 }, bypassCSP: true });
    await page.setContent(sheet);
    expect(await page.evaluate(() => document.querySelectorAll('.box').length)).toBeGreaterThan(100);
    expect(await accessibilityOf(page)).toEqual([]);
    await page.screenshot({ path: join(pictures, `sheet-${wide}.png`), fullPage: true });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
    await page.close();
  });

  test.each(Object.keys(labelSizes))('labels of size %s: as accessible', async (size) => {
    const asked = ['--on', '2025-06-20', '--of', 'P25.1..5', '--size', size, '--out', '-'];
    const page = await browser.newPage({ viewport: { width: 320, height: 700 }, bypassCSP: true });
    await page.setContent(run(['labels', resolve('examples/drumlin-lane'), ...asked]).out);
    expect(await page.locator('.label').count()).toBeGreaterThan(0);
    expect(await accessibilityOf(page)).toEqual([]);
    await page.close();
  });

  test('on a phone no set is broken where there is room, and counts of causes keep their words', async () => {
    const { page, close } = await shown({ viewport: { width: 320, height: 700 } });
    const lines = await page.evaluate(() =>
      [...document.querySelectorAll('.steps th[scope=row]')].map(
        (cell) => cell.getClientRects().length && cell.clientHeight,
      ),
    );
    expect(lines.length).toBeGreaterThan(10);
    expect(Math.max(...lines)).toBeLessThan(34);
    const words = await page.evaluate(() =>
      [...document.querySelectorAll('.causes tbody tr:first-child .number')].map(
        (cell) => getComputedStyle(cell, '::after').content,
      ),
    );
    expect(words).toEqual(['" this season"', '" on record"']);
    await close();
  });

  test.each([
    ['A4', '595'],
    ['Letter', '612'],
  ] as const)('prints on %s, nothing wider than the paper', async (format, width) => {
    const { page, close } = await shown({});
    const pdf = (await page.pdf({ format, path: join(pictures, `report-${format}.pdf`) })).toString('latin1');
    const boxes = [...pdf.matchAll(/\/MediaBox \[0 0 ([\d.]+)/g)].map(([, wide]) => String(Math.floor(Number(wide))));
    expect(new Set(boxes)).toEqual(new Set([width]));
    expect(boxes.length).toBeLessThan(12);
    // nothing is wider than the paper
    await page.emulateMedia({ media: 'print' });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
    await close();
  });
});
