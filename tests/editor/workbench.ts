import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { type Browser, chromium, type Locator, type Page } from 'playwright-core';
import { buildPage, page as builtPage, project } from '../../client/workbench/build-page.mjs';
import { serve } from '../../client/workbench/serve.mjs';
import { browserPath } from './browser.ts';
import { smallPng } from './small-png.ts';

/** Without a browser its tests are passed over; under CI they run, and fail. */
export const passedOver = !browserPath() && !process.env.CI;

/** Enough for a first start on a slow machine; waits end as soon as the thing is there. */
const patience = 60_000;
const pictures = join(project, '.pictures');

/** The workbench page on a copy of a folder, driven as a person would. */
export interface Workbench {
  readonly page: Page;
  /** On disk, this test's own. */
  readonly folder: string;
  readonly address: string;
  /** Addresses asked for that are not this machine's. */
  readonly strayRequests: string[];
  /** What the page's console called an error. */
  readonly consoleErrors: string[];
  /** Loads the page and waits until the first log is shown. */
  open(): Promise<void>;
  close(): Promise<void>;
}

/** @param files of the folder, by name; or the path of a folder in the project that is copied */
export async function startWorkbench(files: Record<string, string> | string): Promise<Workbench> {
  const executablePath = browserPath();
  if (!executablePath) throw new Error('No browser was found on this machine.');
  await buildPage(() => {});
  const around = await mkdtemp(join(tmpdir(), 'graftlog-'));
  const folder = join(around, typeof files === 'string' ? basename(files) : 'my-nursery');
  if (typeof files === 'string') await cp(join(project, files), folder, { recursive: true });
  else
    for (const [name, text] of Object.entries(files)) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), text);
    }
  const served = await serve({ folder, page: builtPage, project, port: 0 });
  const browser: Browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(patience);
  const own = new URL(served.address).host;
  const strayRequests: string[] = [];
  const consoleErrors: string[] = [];
  page.context().on('request', (request) => {
    const url = new URL(request.url());
    if (url.protocol.startsWith('http') && url.host !== own) strayRequests.push(request.url());
  });
  page.on('console', (message) => {
    if (message.type() === 'error') consoleErrors.push(message.text());
  });
  return {
    page,
    folder,
    address: served.address,
    strayRequests,
    consoleErrors,
    async open() {
      await page.goto(served.address, { waitUntil: 'commit' });
      await page.locator('.monaco-editor .view-line').first().waitFor();
    },
    async close() {
      await browser.close();
      served.close();
      await rm(around, { recursive: true });
    },
  };
}

/** Runs a command by its title, as typed into the palette. */
export async function runCommand(page: Page, title: string): Promise<void> {
  const input = page.locator('.quick-input-widget input[type=text]');
  const row = page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first();
  for (let tried = 0; ; tried++) {
    try {
      await page.keyboard.press('F1');
      await input.waitFor({ timeout: 10_000 });
      await input.fill(`>${title}`, { timeout: 5_000 });
      await row.waitFor({ timeout: 20_000 });
      break;
    } catch (error) {
      // a window that is laid out anew, or a page that takes the focus, closes the palette
      if (tried === 4) throw error;
      await page.keyboard.press('Escape');
    }
  }
  await row.click();
}

export async function useTheme(page: Page, name: string, mark: string): Promise<void> {
  await runCommand(page, 'Preferences: Color Theme');
  await page.locator('.quick-input-widget input[type=text]').fill(name);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: name }).first().click();
  await page.locator(`.monaco-workbench.${mark}`).waitFor();
}

/** Opens a file of the folder from the explorer. */
export async function openFile(page: Page, name: string): Promise<void> {
  await runCommand(page, 'Explorer: Focus on Folders View');
  await page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first().dblclick();
  await page.locator('.tab.active', { hasText: name }).waitFor();
}

/** Puts the caret at the end of the file's last line, as keys typed without the editor's focus are lost silently. */
export async function toEnd(page: Page): Promise<void> {
  // A hover that is still shown would take the click.
  await page.mouse.move(0, 0);
  await page.locator('.monaco-hover:visible').waitFor({ state: 'detached' });
  await page.locator('.monaco-editor .view-line').first().click();
  await page.locator('.monaco-editor.focused').waitFor();
  await page.keyboard.press('Control+End');
}

/** Points at the last place where the editor shows this word, in the lines that hold a text. */
export async function hover(page: Page, word: string, inLine = ''): Promise<Locator> {
  const lines = page.locator('.monaco-editor .view-line', inLine === '' ? {} : { hasText: inLine });
  const shown = page.locator('.monaco-hover-content').first();
  for (let tried = 0; ; tried++) {
    await lines.locator('span span', { hasText: word }).last().hover();
    try {
      await shown.waitFor({ timeout: 15_000 });
      return shown;
    } catch (error) {
      // a line laid out anew under the pointer is not pointed at; pointing starts from elsewhere
      if (tried === 3) throw error;
      await page.mouse.move(0, 0);
    }
  }
}

/** A picture for people to look at. */
export async function picture(page: Page, name: string): Promise<void> {
  await mkdir(pictures, { recursive: true });
  await page.screenshot({ path: join(pictures, `${name}.png`) });
}

/** A picture that lies in the package: copy it from .pictures/ to client/images/ where the look has changed. */
export async function packedPicture(page: Page, name: string, clip?: Clip): Promise<void> {
  await mkdir(pictures, { recursive: true });
  await writeFile(join(pictures, `${name}.png`), await smallPng(page, await page.screenshot(clip ? { clip } : {})));
}

type Clip = NonNullable<NonNullable<Parameters<Page['screenshot']>[0]>['clip']>;
