import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { project } from '../../client/workbench/build-page.mjs';
import { folderDay } from '../../client/workbench/folder-day.mjs';
import { passedOver, picture, runCommand, startWorkbench, type Workbench } from './workbench.ts';

interface Due {
  readonly work: readonly {
    readonly batch: string;
    readonly grafts: string;
    readonly state: string;
    readonly waits: boolean;
  }[];
}

describe.skipIf(passedOver)('the work list', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench('examples/drumlin-lane');
    await bench.open();
    await bench.page.locator('.activitybar a[aria-label^="Graft Log"]').click();
    await rows('P25 open a step').first().waitFor();
  });
  afterAll(() => bench?.close());

  const rows = (text: string | RegExp) => bench.page.locator('.pane-body .monaco-list-row', { hasText: text });
  const labels = () =>
    bench.page
      .locator('.pane-body .monaco-list-row')
      .evaluateAll((all) => all.map((row) => row.getAttribute('aria-label') ?? ''));
  // its buttons show once the view is pointed at
  const press = async (name: string) => {
    await bench.page.locator('.sidebar .composite.title').hover();
    await bench.page.locator(`.sidebar .action-label[aria-label^="${name}"]:visible`).first().click();
  };
  const fill = async (text: string) => {
    const input = bench.page.locator('.quick-input-widget input[type=text]');
    await input.waitFor();
    await input.fill(text);
  };
  const due = (): Due['work'] => {
    const args = ['dist/cli.js', 'due', bench.folder, '--on', folderDay(bench.folder) ?? '', '--format', 'json'];
    return (JSON.parse(execFileSync(process.execPath, args, { cwd: project, encoding: 'utf8' })) as Due).work;
  };

  test('the status bar counts what is overdue and can’t wait, and nothing else', async () => {
    const overdue = due().filter(({ state, waits }) => state === 'overdue' && !waits).length;
    const status = bench.page.locator('.statusbar-item', { hasText: 'overdue' });
    expect((await status.first().textContent())?.trim()).toBe(`${overdue} overdue`);
    expect(await status.first().locator('a').getAttribute('aria-label')).toBe(`Graft Log: ${overdue} jobs overdue`);
  });

  test('each row is a sentence to a screen reader, each group has its count', async () => {
    const said = await labels();
    expect(said).toContainEqual('Overdue, 2 jobs');
    expect(said).toContainEqual(expect.stringMatching(/^P25, open a step, 40 grafts in frame, 10 days late$/));
    expect(said.filter((label) => label === '')).toEqual([]);
  });

  test('grouped by place, batch and hand each row carries its state as a shape, and what it is grouped by is left out', async () => {
    const { page } = bench;
    for (const [title, group] of [
      ['place', 'tunnel'],
      ['batch', 'A24'],
      ['hand', 'mk'],
    ] as const) {
      await runCommand(page, `Graft Log: Group work by ${title}`);
      await rows(new RegExp(`^${group}\\d*$`))
        .first()
        .waitFor();
      await picture(page, `work-by-${title}`);
    }
    expect(await page.locator('.pane-body .monaco-list-row .codicon-warning').count()).toBeGreaterThan(0);
    await runCommand(page, 'Graft Log: Group work by when');
    await rows('Overdue').first().waitFor();
  });

  test('filtered while words are typed; all of them have to fit; one click shows everything again', async () => {
    const { page } = bench;
    await press('Filter the work list');
    await fill('tunnel open');
    await expect.poll(() => rows('P25 open a step').count()).toBe(0);
    await page.keyboard.press('Enter');
    await picture(page, 'work-filtered');
    const work = (await labels()).filter((label) => label.includes(','));
    expect(work.filter((label) => !label.includes(' job'))).not.toEqual([]);
    expect(work.filter((label) => !label.includes(' job') && !/open a step.*tunnel/.test(label))).toEqual([]);
    await press('Show all work again');
    await rows('P25 open a step').first().waitFor();
  });

  test('a row opens its line', async () => {
    const { page } = bench;
    await rows('J25 open a step').first().click();
    await page.locator('.tab.active', { hasText: '2025.graft' }).waitFor();
    const at = await page.locator('.statusbar-item', { hasText: /^Ln / }).textContent();
    const line = Number(/Ln (\d+)/.exec(at ?? '')?.[1]);
    expect((await readFile(join(bench.folder, '2025.graft'), 'utf8')).split('\n')[line - 1]).toMatch(/J25/);
  });

  test('“Write it in the log” asks which grafts, says what can’t be read, writes under today; one undo takes it back', async () => {
    const { page } = bench;
    const row = rows('P25 open a step').first();
    await row.hover();
    await row.locator('.action-label[aria-label^="Write it in the log"]').click();
    const input = page.locator('.quick-input-widget input[type=text]');
    await input.waitFor();
    expect(await input.inputValue()).toBe('open  P25.61..100  45%');
    expect(
      await input.evaluate((box: HTMLInputElement) => box.value.slice(box.selectionStart ?? 0, box.selectionEnd ?? 0)),
    ).toBe('P25.61..100');
    await input.fill('opne P25.61..100 45%');
    await page.locator('.quick-input-message', { hasText: 'Is it `open`?' }).waitFor();
    await picture(page, 'work-write');
    await input.fill('open  P25.61..100  45%');
    await page.locator('.quick-input-message', { hasText: 'Is it' }).waitFor({ state: 'detached' });
    await page.keyboard.press('Enter');
    await page.locator('.view-line', { hasText: 'P25.61..100  45%' }).first().waitFor();
    await rows('10 days late').waitFor({ state: 'detached' });
    await page.locator('.statusbar-item', { hasText: '1 overdue' }).first().waitFor();
    await picture(page, 'work-written');
    const shown = await page.locator('.view-lines .view-line').allInnerTexts();
    const text = shown.map((line) => line.replaceAll('\u00A0', ' '));
    const at = text.findIndex((line) => line.includes('P25.61..100  45%'));
    expect(text.slice(0, at).some((line) => line.includes('2025-06-20'))).toBe(true);
    await page.keyboard.press('Control+z');
    await rows('10 days late').waitFor();
    await page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
  });

  test('by keyboard: to the next and previous that needs attention, and from the row to the log', async () => {
    const { page } = bench;
    const where = async () =>
      `${await page.locator('.tab.active').first().textContent()} ${await page.locator('.statusbar-item', { hasText: /^Ln / }).textContent()}`;
    // another file is in front before the caret stands on its line
    const come = async (from: string) => {
      let [before, now] = [from, from];
      const rests = async () => {
        [before, now] = [now, await where()];
        return now !== from && now === before;
      };
      await expect.poll(rests, { interval: 100 }).toBe(true);
      return now;
    };
    const start = await where();
    await page.keyboard.press('Alt+F7');
    const next = await come(start);
    await page.keyboard.press('Alt+F7');
    const after = await come(next);
    expect(after).not.toBe(start);
    await page.keyboard.press('Shift+Alt+F7');
    expect(await come(after)).toBe(next);
    await runCommand(page, 'Graft Log: Focus on Work View');
    await rows('P25 open a step').first().click();
    await runCommand(page, 'Graft Log: Focus on Work View');
    await page.keyboard.press('Control+Enter');
    const input = page.locator('.quick-input-widget input[type=text]');
    await input.waitFor();
    expect(await input.inputValue()).toBe('open  P25.61..100  45%');
    await page.keyboard.press('Escape');
    // from the palette nobody sees which row was last stood on
    await runCommand(page, 'Graft Log: Write it in the log');
    await page.locator('.quick-input-list .monaco-list-row', { hasText: 'J25 open a step' }).first().waitFor();
    await page.keyboard.press('Escape');
  });

  test('by keyboard from the shipped practice, which is no log of ours', async () => {
    const { page } = bench;
    await runCommand(page, 'Graft Log: Show the shipped practice');
    await page.locator('.tab.active', { hasText: 'practice.graft' }).waitFor();
    await page.locator('.monaco-editor .view-line', { hasText: 'The shipped practice' }).first().click();
    await page.keyboard.press('Alt+F7');
    await page.locator('.tab.active', { hasText: '2025.graft' }).waitFor();
  });

  test('today’s sheet is one click away', async () => {
    const { page } = bench;
    await press('Today’s bench sheet');
    await page.locator('.tab.active', { hasText: 'Bench sheet' }).waitFor();
    await expect.poll(() => inFrame('text=P25'), { timeout: 20_000 }).toBe(true);
    await picture(page, 'work-sheet');
  });

  test('the season report stands beside the log', async () => {
    const { page } = bench;
    await runCommand(page, 'Graft Log: Season report');
    await page.locator('.tab.active', { hasText: 'Season report' }).waitFor();
    await expect.poll(() => inFrame('text=Season 2024/25'), { timeout: 20_000 }).toBe(true);
    await picture(page, 'work-report');
  });

  /** A page stands in a frame of its own, which may be gone while it is asked. */
  async function inFrame(what: string): Promise<boolean> {
    const { page } = bench;
    for (const frame of page.frames()) {
      const count =
        frame === page.mainFrame()
          ? 0
          : await frame
              .locator(what)
              .count()
              .catch(() => 0);
      if (count > 0) return true;
    }
    return false;
  }

  test('no request left the machine', () => {
    expect(bench.strayRequests).toEqual([]);
  });
});
