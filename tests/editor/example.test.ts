import { execFileSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { project } from '../../client/workbench/build-page.mjs';
import { folderDay } from '../../client/workbench/folder-day.mjs';
import { passedOver, picture, runCommand, startWorkbench, useTheme, type Workbench } from './workbench.ts';

describe.skipIf(passedOver)('the example nursery in the editor', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench('examples/drumlin-lane');
    await bench.open();
  });
  afterAll(() => bench?.close());

  test('the editor tells as many problems as the command line', async () => {
    const args = ['dist/cli.js', 'check', bench.folder, '--on', folderDay(bench.folder) ?? '', '--format', 'json'];
    const printed = execFileSync(process.execPath, [...args, '--fail-on', 'never'], { cwd: project, encoding: 'utf8' });
    const { findings } = JSON.parse(printed) as { findings: { severity: string; message: string }[] };
    const shown = ['error', 'warning', 'information'].map(
      (severity) => findings.filter((finding) => finding.severity === severity).length,
    );
    expect(shown[0]).toBeGreaterThan(0);
    const status = bench.page.locator('[id="status.problems"]');
    await expect
      .poll(async () => (await status.textContent())?.match(/\d+/g)?.map(Number), { timeout: 30_000 })
      .toEqual(shown);
  });

  test('its work list and its problems, for the eye', async () => {
    const { page } = bench;
    await page.locator('.codelens-decoration a', { hasText: 'grafted' }).first().waitFor();
    await page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    await page.locator('.pane-body .monaco-list-row', { hasText: 'Overdue' }).first().waitFor();
    await page.locator('.statusbar-item', { hasText: 'overdue' }).first().waitFor();
    await picture(page, 'example-dark');
    await useTheme(page, 'Light Modern', 'vs');
    await picture(page, 'example-light');
    await runCommand(page, 'Problems: Focus on Problems View');
    await page.locator('.markers-panel .monaco-list-row').first().waitFor();
    await picture(page, 'example-problems');
  });

  test('the walkthrough opens with its pages', async () => {
    const { page } = bench;
    await runCommand(page, 'Welcome: Open Walkthrough');
    await page.locator('.quick-input-list .monaco-list-row', { hasText: 'A first graft log' }).first().click();
    await page.locator('.getting-started-step', { hasText: 'Start a log' }).first().waitFor();
    await picture(page, 'walkthrough');
  });

  test('no request left the machine', () => {
    expect(bench.strayRequests).toEqual([]);
  });
});
