import { execFileSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { project } from '../../client/workbench/build-page.mjs';
import { folderDay } from '../../client/workbench/folder-day.mjs';
import { passedOver, picture, runCommand, startWorkbench, type Workbench } from './workbench.ts';

describe.skipIf(passedOver)('figures in the editor', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench('examples/drumlin-lane');
    await bench.open();
  });
  afterAll(() => bench?.close());

  const printed = (...args: string[]): string[] =>
    execFileSync(process.execPath, ['dist/cli.js', ...args, '--on', folderDay(bench.folder) ?? ''], {
      cwd: project,
      encoding: 'utf8',
    })
      .replaceAll('\u00A0', ' ')
      .split('\n');

  /** The first lines of the page, as they are seen. */
  const seen = async (title: string, lines: readonly string[]): Promise<void> => {
    const { page } = bench;
    await page.locator('.tab.active', { hasText: title }).waitFor();
    const shown = page.locator(`.editor-instance[aria-label*="${title}"] .view-line`);
    await expect
      .poll(async () => (await shown.allTextContents()).map((text) => text.replaceAll('\u00A0', ' ').trimEnd()), {
        timeout: 30_000,
      })
      .toEqual(expect.arrayContaining(lines.filter((line) => line.trim() !== '')));
  };

  test('Compare asks what, and shows the page of the command line', async () => {
    const { page } = bench;
    await page.locator('.codelens-decoration a', { hasText: 'grafted' }).first().waitFor();
    await runCommand(page, 'Graft Log: Compare');
    const rows = page.locator('.quick-input-list .monaco-list-row');
    await rows.filter({ hasText: 'hand' }).first().click();
    await page.locator('.quick-input-action .monaco-button', { hasText: 'OK' }).click();
    const wanted = printed('stats', bench.folder, '--by', 'hand', '--compare', 'hand');
    await seen('Compare hand', wanted.slice(0, 12));
    await picture(page, 'compare');
  });

  test('Plan next season asks how many, like what and the hours', async () => {
    const { page } = bench;
    await runCommand(page, 'Graft Log: Plan next season');
    const input = page.locator('.quick-input-widget input[type=text]');
    const rows = page.locator('.quick-input-list .monaco-list-row');
    // what is typed before the next question has come goes into the one before
    await rows.first().waitFor({ state: 'hidden' });
    await input.fill('60');
    await page.keyboard.press('Enter');
    await rows.first().waitFor();
    await input.fill('P23');
    await rows.filter({ hasText: 'P23' }).first().click();
    await rows.first().waitFor({ state: 'hidden' });
    await input.fill('8');
    await page.keyboard.press('Enter');
    const wanted = printed('plan', bench.folder, '--takes', '60', '--like', 'P23', '--hours', '8');
    await seen('Plan 60 takes', wanted.slice(0, 10));
    await picture(page, 'plan');
  });
});
