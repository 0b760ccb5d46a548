import { execFileSync, spawnSync } from 'node:child_process';
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { laidOut, otherEditor } from '../support/other-editor.ts';

const asksEglot = ['--batch', '-q', '--eval', "(progn (require 'package) (package-initialize) (require 'eglot))"];
const there = spawnSync('emacs', asksEglot, { stdio: 'ignore' }).status === 0;

interface Answers {
  readonly diagnostics: readonly { readonly line: number; readonly text: string; readonly message: string }[];
  readonly hover: string;
  readonly completion: readonly string[];
  readonly laid_out: readonly string[];
  readonly renamed: readonly string[];
  /** What went wrong in the script itself. */
  readonly slip?: string;
}

// Emacs without a configuration but that of the README, and its own client.
describe.skipIf(!there && !process.env.CI)('Emacs, with the lines of the README', () => {
  const { folder, log, env, answers: read } = otherEditor('elisp');
  let answers: Answers;
  beforeAll(() => {
    execFileSync('emacs', ['--batch', '-q', '-l', join(import.meta.dirname, 'emacs.el')], {
      env: { ...env, GRAFTLOG_LOG: log },
      cwd: folder,
      stdio: 'pipe',
      timeout: 60_000,
    });
    answers = read();
  }, 90_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('the script ran to its end', () => expect(answers.slip).toBeUndefined());

  test('receives findings, each on what it is about', () => {
    expect(answers.diagnostics).toEqual([
      { line: 7, text: 'cut 22%', message: expect.stringMatching(/cut-shallow.*Cut 22\s% deep/) },
    ]);
  });

  test('hover says what the grafts went through', () => {
    expect(answers.hover.replaceAll('\\', '')).toContain('K26.1..11');
  });

  test('completion offers the next graft', () => {
    expect(answers.completion).toEqual(expect.arrayContaining(['graft K26.13', 'check']));
  });

  test('layout is token edits, and they land', () => expect(answers.laid_out.slice(5, 7)).toEqual(laidOut));

  test('a batch is renamed wherever it stands', () => {
    expect(answers.renamed.filter((line) => line.includes('K27')).length).toBe(3);
    expect(answers.renamed.join('\n')).not.toContain('K26');
  });
});
