import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const project = resolve(import.meta.dirname, '../..');
const there = spawnSync('nvim', ['--version']).status === 0;

/** The few lines of Lua that the README gives. */
const configuration = /```lua\n([\s\S]*?)```/.exec(readFileSync(join(project, 'README.md'), 'utf8'))?.[1] ?? '';

const log = `site     Drumlin-Lane  lat 53.1  lon -2.4
place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft    K26.1..11    cut 40%  whorls 2
graft    K26.12  cut 22%  whorls 2

`;

interface Answers {
  readonly diagnostics: readonly { readonly line: number; readonly code: string; readonly page?: string }[];
  readonly hover: { readonly contents: { readonly value: string } };
  readonly completion:
    | readonly { readonly label: string }[]
    | { readonly items: readonly { readonly label: string }[] };
  readonly formatting: readonly unknown[];
  readonly laid_out: readonly string[];
  readonly renamed: readonly string[];
  readonly page?: string;
  /** What went wrong in the script itself. */
  readonly slip?: string;
}

// Neovim of its own, without a plugin: `graftlog lsp` as any editor that speaks the protocol starts it.
describe.skipIf(!there && !process.env.CI)('Neovim, with the lines of the README', () => {
  let folder: string;
  let answers: Answers;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'graftlog-nvim-'));
    const put = (name: string, text: string) => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    };
    mkdirSync(join(folder, 'bin'));
    const command = put(
      'bin/graftlog',
      `#!/bin/sh\nexec '${process.execPath}' '${project}/dist/cli.js' "$@" --on 2026-11-01\n`,
    );
    chmodSync(command, 0o755);
    const env = {
      ...process.env,
      PATH: `${join(folder, 'bin')}${delimiter}${process.env.PATH}`,
      GRAFTLOG_CONFIG: put('config.lua', configuration),
      GRAFTLOG_ANSWERS: join(folder, 'answers.json'),
      XDG_STATE_HOME: folder,
      XDG_DATA_HOME: folder,
    };
    const quiet = ['--headless', '-u', 'NONE', '-i', 'NONE', '-n'];
    const script = join(import.meta.dirname, 'neovim.lua');
    execFileSync('nvim', [...quiet, put('2026.graft', log), '-c', `luafile ${script}`], {
      env,
      cwd: folder,
      stdio: 'pipe',
      timeout: 60_000,
    });
    answers = JSON.parse(readFileSync(join(folder, 'answers.json'), 'utf8'));
  }, 90_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('the script ran to its end', () => expect(answers.slip).toBeUndefined());

  test('receives findings, each with its page as a file it opens', () => {
    expect(answers.diagnostics).toMatchObject([
      { line: 6, from: 17, to: 24, code: 'cut-shallow', source: 'graft-log', severity: 3 },
    ]);
    expect(answers.diagnostics[0]?.page).toMatch(/^file:.*\/grammar\/pages\/cut-shallow\.md$/);
    expect(answers.page).toBe('# `cut-shallow`: a cut too shallow to hold the scion');
  });

  test('hover says what the grafts went through', () => {
    expect(answers.hover.contents.value.replaceAll('\\', '')).toContain('K26.1..11');
  });

  test('completion offers the next graft', () => {
    const offers = 'items' in answers.completion ? answers.completion.items : answers.completion;
    expect(offers.map(({ label }) => label)).toEqual(expect.arrayContaining(['graft K26.13', 'check']));
  });

  test('layout is token edits, and they land', () => {
    expect(answers.formatting.length).toBeGreaterThan(0);
    expect(answers.laid_out.slice(5, 7)).toEqual([
      'graft    K26.1..11  cut 40%  whorls 2',
      'graft    K26.12     cut 22%  whorls 2',
    ]);
  });

  test('a batch is renamed wherever it stands', () => {
    expect(answers.renamed.filter((line) => line.includes('K27')).length).toBe(3);
    expect(answers.renamed.join('\n')).not.toContain('K26');
  });
});
