import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { season } from './season.ts';
import {
  hover,
  passedOver,
  picture,
  runCommand,
  startWorkbench,
  toEnd,
  useTheme,
  type Workbench,
} from './workbench.ts';

describe.skipIf(passedOver)('a log in the editor', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench(season);
    await bench.open();
  });
  afterAll(() => bench?.close());

  test('the lens over the batch counts it, for the day that the folder’s settings name', async () => {
    const lens = bench.page.locator('.codelens-decoration a', { hasText: '12 grafted' });
    await lens.first().waitFor();
    expect(await bench.page.locator('.codelens-decoration').first().textContent()).toContain('not judged yet');
  });

  test('a slip is underlined and told in the problems', async () => {
    const { page } = bench;
    await page.locator('.squiggly-info, .squiggly-warning').first().waitFor();
    await runCommand(page, 'Problems: Focus on Problems View');
    const problem = page.locator('.markers-panel .monaco-list-row', { hasText: 'Cut 22' });
    await problem.waitFor();
    expect(await problem.textContent()).toMatch(/Cut 22\u00A0% deep: .*cut-shallow/s);
    await picture(page, 'slip');
  });

  test('pointing at the grafts tells what they went through and what comes next', async () => {
    const shown = await hover(bench.page, '.1..11');
    await expect.poll(() => shown.textContent()).toMatch(/K26\.1/);
    await picture(bench.page, 'hover');
    expect(await shown.textContent()).toMatch(/Next/);
    await bench.page.keyboard.press('Escape');
  });

  test('the work list holds what is due', async () => {
    const { page } = bench;
    await page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    const row = page.locator('.monaco-list-row', { hasText: 'K26' });
    await row.first().waitFor();
    await picture(page, 'work-list');
    expect(await page.locator('.pane-body .monaco-list-row').allInnerTexts()).toContainEqual(
      expect.stringMatching(/^(Due|Overdue)/),
    );
  });

  test('what is typed is read at once', async () => {
    const { page } = bench;
    await toEnd(page);
    await page.keyboard.type('graft    K26.13  cut 41%  whorls 2');
    await picture(page, 'typed');
    await page.keyboard.press('Escape');
    await page.locator('.codelens-decoration a', { hasText: '13 grafted' }).first().waitFor();
  });

  test('unsaved text survives a reload, and is on the disk once it is saved', async () => {
    const { page, folder } = bench;
    const onDisk = () => readFile(join(folder, '2026.graft'), 'utf8');
    await page.locator('.tab.active.dirty').waitFor();
    expect(await onDisk()).not.toContain('K26.13');
    // The editor puts by what is unsaved a second after the last key.
    await page.waitForTimeout(2500);
    await page.reload({ waitUntil: 'commit' });
    await page.locator('.tab.active.dirty').waitFor();
    await page.locator('.codelens-decoration a', { hasText: '13 grafted' }).first().waitFor();
    expect(await onDisk()).not.toContain('K26.13');
    await runCommand(page, 'File: Save');
    await expect.poll(onDisk, { timeout: 10_000 }).toContain('graft    K26.13  cut 41%  whorls 2');
  });

  test('a change from outside is shown; one that crosses unsaved text is asked about', async () => {
    const { page, folder } = bench;
    const path = join(folder, '2026.graft');
    await writeFile(path, `${await readFile(path, 'utf8')}\ngraft K26.14 cut 40% whorls 2\n`);
    await page.locator('.codelens-decoration a', { hasText: '14 grafted' }).first().waitFor();
    await toEnd(page);
    await page.keyboard.type('graft K26.15 cut 40%');
    await page.keyboard.press('Escape');
    await page.locator('.tab.active.dirty').waitFor();
    const theirs = `${await readFile(path, 'utf8')}# from another program\n`;
    await writeFile(path, theirs);
    await runCommand(page, 'File: Save');
    await page.locator('.notification-list-item', { hasText: 'newer' }).waitFor();
    expect(await readFile(path, 'utf8')).toBe(theirs);
    await runCommand(page, 'File: Revert File');
    await page.locator('.monaco-editor .view-line', { hasText: 'from another program' }).waitFor();
  });

  test('light and high contrast', async () => {
    const { page } = bench;
    await useTheme(page, 'Light Modern', 'vs');
    await picture(page, 'light');
    await useTheme(page, 'Dark High Contrast', 'hc-black');
    await picture(page, 'high-contrast');
    await useTheme(page, 'Dark Modern', 'vs-dark');
  });

  test('no request left the machine', () => {
    expect(bench.strayRequests).toEqual([]);
  });
});
