import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { passedOver, picture, runCommand, startWorkbench, toEnd, type Workbench } from './workbench.ts';

const log = `place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
batch    B26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft    K26.1..11  cut 40%  whorls 2  by mk
graft    B26.1..8   cut 40%  whorls 2  by jo
2027-03-20
swell    K26.1..8
2027-03-24
vent     K26.1..8  10%
`;

describe.skipIf(passedOver)('writing in the editor', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench({
      '2026.graft': log,
      '.vscode/settings.json': '{ "graftlog.today": "2027-04-06", "graftlog.hints": false }\n',
    });
    await bench.open();
    // the log is read once its figures stand over it
    await bench.page.locator('.codelens-decoration a', { hasText: '11 grafted' }).first().waitFor();
  });
  afterAll(() => bench?.close());

  /** The last lines as they are written, with plain blanks; what is only offered in grey is left out. */
  const lastLines = async (count: number) => {
    const lines = await bench.page.locator('.monaco-editor .view-line').evaluateAll((all) =>
      all
        .map((line) => {
          const written = line.cloneNode(true) as HTMLElement;
          for (const grey of written.querySelectorAll('[class*=ghost-text]')) grey.remove();
          return { top: Number.parseFloat((line as HTMLElement).style.top), text: written.textContent ?? '' };
        })
        .sort((a, b) => a.top - b.top)
        .map(({ text }) => text.replaceAll('\u00A0', ' ')),
    );
    return lines.slice(-count);
  };
  const offers = () => bench.page.locator('.suggest-widget.visible .monaco-list-row');
  const typed = async (text: string) => {
    await bench.page.keyboard.type(text, { delay: 30 });
  };

  test('today’s date by one key, and the caret under it', async () => {
    await toEnd(bench.page);
    await bench.page.keyboard.press('Control+;');
    await expect.poll(() => lastLines(2)).toEqual(['2027-04-06', '']);
  });

  test('behind `open` stand the grafts that are due, and behind them how far', async () => {
    const { page } = bench;
    await typed('open ');
    await offers().first().waitFor();
    await picture(page, 'completion');
    expect((await offers().allInnerTexts())[0]).toMatch(/K26\.1\.\.8\s*by 7 Apr/);
    // none is picked out, so that Enter ends the line; Tab takes the first all the same
    await page.keyboard.press('Tab');
    await expect.poll(() => lastLines(1)).toEqual(['open K26.1..8']);
    await typed(' ');
    await offers().first().waitFor();
    expect((await offers().allInnerTexts())[0]).toMatch(/^15%/);
    await picture(page, 'completion-share');
  });

  test('a line that is finished ends with Enter, and is laid out', async () => {
    const { page } = bench;
    await typed('15%');
    await offers().first().waitFor({ state: 'detached' });
    await page.keyboard.press('Enter');
    await expect.poll(() => lastLines(2)).toEqual(['open     K26.1..8  15%', '']);
  });

  test('below a graft the next one stands in grey: Enter never takes it, Tab does', async () => {
    const { page } = bench;
    await typed('graft K26.12  cut 40%');
    await page.keyboard.press('Enter');
    await expect.poll(() => lastLines(2)).toEqual(['graft    K26.12  cut 40%', '']);
    await page.keyboard.press('Enter');
    await expect.poll(() => lastLines(3)).toEqual(['graft    K26.12  cut 40%', '', '']);
    await page.keyboard.press('Backspace');
    await page.locator('[class*=ghost-text]').first().waitFor();
    await picture(page, 'next-graft');
    await page.keyboard.press('Tab');
    await expect.poll(() => lastLines(2)).toEqual(['graft    K26.12  cut 40%', 'graft    K26.13  cut 40%']);
    await page.keyboard.press('Enter');
  });

  test('what the line takes next is shown along it', async () => {
    const { page } = bench;
    await typed('move ');
    const shown = page.locator('.parameter-hints-widget.visible');
    await shown.waitFor();
    await expect.poll(() => shown.textContent()).toContain('grafts|tree|lot');
    await picture(page, 'signature');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Shift+Home');
    await page.keyboard.press('Delete');
  });

  test('another word becomes the notation’s own', async () => {
    const { page } = bench;
    await page.locator('.monaco-editor .view-line', { hasText: 'vent' }).first().click();
    await runCommand(page, 'Refactor...');
    const action = page.locator('.action-widget .monaco-list-row', { hasText: 'Write open for vent' });
    await action.first().waitFor();
    await picture(page, 'refactoring');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.locator('.monaco-editor .view-line', { hasText: 'open     K26.1..8  10%' }).first().waitFor();
  });

  test('grafts that are named get a line of their own', async () => {
    const { page } = bench;
    await page.locator('.monaco-editor .view-line span', { hasText: '.1..11' }).last().click();
    await runCommand(page, 'Refactor...');
    const rows = page.locator('.action-widget .monaco-list-row.action');
    await rows.filter({ hasText: 'Split grafts off' }).waitFor();
    const titles = await rows.allInnerTexts();
    for (let i = 0; i < titles.findIndex((title) => title.includes('Split grafts off')); i++)
      await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    const input = page.locator('.quick-input-widget input[type=text]');
    await input.waitFor();
    await picture(page, 'split');
    await input.fill('3, 5..7');
    await page.keyboard.press('Enter');
    await page.locator('.monaco-editor .view-line', { hasText: 'graft    K26.1,2,4,8..11  cut 40%' }).first().waitFor();
    await page.locator('.monaco-editor .view-line', { hasText: 'graft    K26.3,5..7  cut 40%' }).first().waitFor();
  });

  /** A file of the folder held over a line with Shift, and let go. */
  const drop = async (uri: string, line: string) => {
    const { page } = bench;
    const target = page.locator('.monaco-editor .view-line', { hasText: line }).first();
    const box = await target.boundingBox();
    const dataTransfer = await page.evaluateHandle((address) => {
      const dropped = new DataTransfer();
      dropped.setData('text/uri-list', address);
      return dropped;
    }, uri);
    const at = { clientX: (box?.x ?? 0) + 40, clientY: (box?.y ?? 0) + 8, shiftKey: true, dataTransfer };
    for (const event of ['dragenter', 'dragover', 'drop']) await target.dispatchEvent(event, at);
  };

  test('a picture dropped on a line is written as its photo; from elsewhere it is told why not', async () => {
    const { page } = bench;
    await drop(pathToFileURL(join(bench.folder, 'k26-4.jpg')).href, 'swell');
    await page
      .locator('.monaco-editor .view-line', { hasText: 'swell    K26.1..8  photo "k26-4.jpg"' })
      .first()
      .waitFor();
    await picture(page, 'photo');
    await page.keyboard.press('Escape');
    await drop('file:///elsewhere/k26-4.jpg', 'graft    K26.12');
    await page.locator('.notification-list-item', { hasText: 'put the picture into that folder first' }).waitFor();
  });
});
