import { afterAll, beforeAll, describe, test } from 'vitest';
import { season } from './season.ts';
import { packedPicture, passedOver, runCommand, startWorkbench, useTheme, type Workbench } from './workbench.ts';

// Takes the walkthrough's pictures.
describe.skipIf(passedOver)('pictures of the walkthrough', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench({ ...season, '.vscode/settings.json': '{ "graftlog.today": "2026-10-20" }\n' });
    await bench.page.setViewportSize({ width: 980, height: 560 });
    await bench.open();
    await bench.page.locator('.codelens-decoration a', { hasText: '12 grafted' }).first().waitFor();
    await bench.page.locator('.squiggly-info').first().waitFor();
    await useTheme(bench.page, 'Light Modern', 'vs');
    await runCommand(bench.page, 'View: Toggle Primary Side Bar Visibility');
    await bench.page.locator('.sidebar:visible').waitFor({ state: 'detached' });
  });
  afterAll(() => bench?.close());

  const rest = () => bench.page.mouse.move(700, 380);

  test('a log of a few lines', async () => {
    const { page } = bench;
    await rest();
    await packedPicture(page, 'walkthrough-start', { x: 48, y: 36, width: 800, height: 224 });
  });

  test('a deviation is known, not hidden', async () => {
    const { page } = bench;
    await page.locator('.view-line', { hasText: 'K26.12' }).locator('span span', { hasText: '22' }).first().click();
    await page.locator('.monaco-editor.focused').waitFor();
    await page.keyboard.press('Control+.');
    await page.locator('.action-widget .monaco-list-row', { hasText: 'I know: accept on this line' }).waitFor();
    await rest();
    await packedPicture(page, 'walkthrough-practice', { x: 48, y: 36, width: 800, height: 450 });
    await page.keyboard.press('Escape');
  });

  test('the work list, with the pencil that writes it in the log', async () => {
    const { page } = bench;
    await page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    const row = page.locator('.pane-body .monaco-list-row', { hasText: 'K26 look' });
    await row.hover();
    await row.locator('.action-label').first().waitFor();
    await packedPicture(page, 'walkthrough-next', { x: 0, y: 36, width: 800, height: 224 });
  });
});
