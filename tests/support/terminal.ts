import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterEach, beforeEach } from 'vitest';

/** The built command line. */
export const cli = resolve('dist/cli.js');

export interface Ran {
  readonly status: number | null;
  /** No-break spaces as plain ones. */
  readonly out: string;
  readonly err: string;
}

/** A folder of its own for each test, and the command line run in it. */
export function terminal() {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  return {
    folder: () => folder,
    put(name: string, text: string | Buffer): void {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    },
    get: (name: string) => readFileSync(join(folder, name), 'utf8'),
    run(args: readonly string[], input?: string | Buffer): Ran {
      const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
        cwd: folder,
        encoding: 'utf8',
        // nothing a log names may keep it waiting
        timeout: 60_000,
        ...(input === undefined ? {} : { input }),
      });
      return { status, out: stdout.replaceAll('\u00A0', ' '), err: stderr };
    },
  };
}
