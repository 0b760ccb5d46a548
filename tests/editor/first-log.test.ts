import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { passedOver, picture, startWorkbench, type Workbench } from './workbench.ts';

describe.skipIf(passedOver)('a folder without a log', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench({ 'notes.txt': 'Order film.\n' });
    await bench.page.goto(bench.address, { waitUntil: 'commit' });
  });
  afterAll(() => bench?.close());

  test('the view says so and starts one: a file on the disk without a slip in it', async () => {
    const { page, folder } = bench;
    await page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    await page.locator('.welcome-view-content', { hasText: 'No graft log in this folder yet.' }).waitFor();
    await picture(page, 'no-log');
    await page.locator('.welcome-view-content .monaco-button', { hasText: 'Start a log' }).click();
    const name = page.locator('.quick-input-widget input[type=text]');
    await name.waitFor();
    await name.fill('first.graft');
    await page.keyboard.press('Enter');
    await page.locator('.tab.active', { hasText: 'first.graft' }).waitFor();
    expect(await readFile(join(folder, 'first.graft'), 'utf8')).toMatch(/^graft\s/m);
    await page.locator('.codelens-decoration a', { hasText: 'grafted' }).first().waitFor();
    await picture(page, 'first-log');
    expect((await page.locator('[id="status.problems"]').textContent())?.match(/\d+/g)?.[0]).toBe('0');
  });
});
