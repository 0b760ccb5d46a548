import { afterAll, beforeAll, describe, test } from 'vitest';
import { packedPicture, passedOver, runCommand, startWorkbench, type Workbench } from './workbench.ts';

// Takes the README's picture, which the walkthrough shows, too.
describe.skipIf(passedOver)('the first log in the editor', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench('examples/first-log');
    await bench.page.setViewportSize({ width: 1220, height: 660 });
    await bench.open();
  });
  afterAll(() => bench?.close());

  test('shows its slip with the message, its figures and its work', async () => {
    const { page } = bench;
    await page.locator('.squiggly-info').first().waitFor();
    await page.locator('.codelens-decoration a', { hasText: '12 grafted' }).first().waitFor();
    await page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    await page.locator('.pane-body .monaco-list-row', { hasText: 'K24 open a step' }).waitFor();
    await runCommand(page, 'Problems: Focus on Problems View');
    await page.locator('.markers-panel .monaco-list-row', { hasText: 'Cut 15' }).waitFor();
    await page.mouse.move(0, 0);
    await packedPicture(page, 'editor');
  });
});
