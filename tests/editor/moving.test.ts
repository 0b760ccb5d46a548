import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openFile, passedOver, picture, runCommand, startWorkbench, type Workbench } from './workbench.ts';

const files = {
  '2026.graft': `2026-10-09
graft    K26.1..11  cut 40%  by mk
graft    K26.12     cut 40%  by mk

2027-03-20
swell    K26
2027-03-24
open     K26.1..8  10%
`,
  'nursery.graft': `place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
`,
  '.vscode/settings.json': '{ "graftlog.today": "2027-04-05" }\n',
};

describe.skipIf(passedOver)('moving about', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench(files);
    await bench.open();
    await bench.page.locator('.monaco-editor .view-line', { hasText: 'open' }).first().waitFor();
  });
  afterAll(() => bench?.close());

  /** Puts the caret on the line with these words, so many steps along. */
  async function stand(line: string, steps: number): Promise<void> {
    const { page } = bench;
    await page
      .locator('.monaco-editor .view-line', { hasText: line })
      .first()
      .click({ position: { x: 4, y: 8 } });
    await page.locator('.monaco-editor.focused').waitFor();
    await page.keyboard.press('Home');
    for (let i = 0; i < steps; i++) await page.keyboard.press('ArrowRight');
  }

  test('hints stand beside other lines than the one with the caret', async () => {
    const { page } = bench;
    await stand('2026-10-09', 2);
    await page.locator('.view-line', { hasText: 'next step' }).first().waitFor();
    await picture(page, 'hints');
  });

  test('references of a graft lead through the files', async () => {
    const { page } = bench;
    await stand('K26.12', 14);
    await page.keyboard.press('Shift+F12');
    await page.locator('.reference-zone-widget .monaco-list-row').first().waitFor();
    await picture(page, 'references');
    await page.keyboard.press('Escape');
  });

  test('the figures over a batch open all its lines', async () => {
    const { page } = bench;
    await openFile(page, 'nursery.graft');
    await page.locator('.codelens-decoration a', { hasText: 'grafted' }).first().click();
    await page.locator('.reference-zone-widget .monaco-list-row', { hasText: '2026.graft' }).first().waitFor();
    await picture(page, 'history');
    await page.keyboard.press('Escape');
    await openFile(page, '2026.graft');
  });

  test('a batch is renamed in a file that isn’t open, too', async () => {
    const { page, folder } = bench;
    await stand('swell', 10);
    await page.keyboard.press('F2');
    const input = page.locator('.rename-box input');
    await input.waitFor();
    await picture(page, 'rename');
    await input.fill('Kiefer-1');
    await page.keyboard.press('Enter');
    await page.locator('.view-line', { hasText: 'Kiefer-1' }).first().waitFor();
    await runCommand(page, 'File: Save All');
    await expect
      .poll(() => readFile(join(folder, 'nursery.graft'), 'utf8'), { timeout: 20_000 })
      .toContain('batch    Kiefer-1  Pinus');
    await picture(page, 'renamed');
    expect(await readFile(join(folder, '2026.graft'), 'utf8')).not.toContain('K26');
  });

  test('where the name stands in a remark, the editor asks', async () => {
    const { page } = bench;
    await stand('2027-03-24', 0);
    await page.keyboard.press('End');
    await page.keyboard.type('  # Kiefer-1 first');
    await stand('swell', 10);
    await page.keyboard.press('F2');
    const input = page.locator('.rename-box input');
    await input.waitFor();
    await input.fill('K27');
    await page.keyboard.press('Enter');
    await page.locator('.bulk-edit-panel .monaco-list-row', { hasText: 'K27' }).first().waitFor();
    await picture(page, 'rename-asks');
    // the preview holds the lines as they would be: they are no second log
    expect((await page.locator('[id="status.problems"]').textContent())?.match(/\d+/g)?.[0]).toBe('0');
  });
});
