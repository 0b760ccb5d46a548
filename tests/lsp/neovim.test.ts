import { execFileSync, spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { laidOut, otherEditor } from '../support/other-editor.ts';

const there = spawnSync('nvim', ['--version']).status === 0;

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
  const { folder, log, env, answers: read } = otherEditor('lua');
  let answers: Answers;
  beforeAll(() => {
    const quiet = ['--headless', '-u', 'NONE', '-i', 'NONE', '-n'];
    const script = join(import.meta.dirname, 'neovim.lua');
    execFileSync('nvim', [...quiet, log, '-c', `luafile ${script}`], {
      env,
      cwd: folder,
      stdio: 'pipe',
      timeout: 60_000,
    });
    answers = read();
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
    expect(answers.laid_out.slice(5, 7)).toEqual(laidOut);
  });

  test('a batch is renamed wherever it stands', () => {
    expect(answers.renamed.filter((line) => line.includes('K27')).length).toBe(3);
    expect(answers.renamed.join('\n')).not.toContain('K26');
  });
});
