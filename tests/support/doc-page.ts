import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { cli } from './terminal.ts';

/*
 * A page of the docs, tried as its reader would. A block that opens with
 *   graft                   is a log by itself;
 *   graft FILE              goes on with FILE of this page, and all files of the page are one log;
 *   graft FILE mended       is typed there, and put right in the text that follows;
 *   csv FILE, json FILE     is that file;
 *   sh                      is typed in a terminal, in the folder of those files. What it shows is the block behind it,
 *                           where a line … stands for lines left out.
 * Below a log stand its findings as of its last day, a quoted paragraph each. None stated: it has none.
 */

interface Block {
  readonly kind: string;
  readonly file: string | undefined;
  readonly mended: boolean;
  readonly body: readonly string[];
}

/** The page as it would be if all it shows were true. @param fresh where a new folder begins */
export function asTried(text: string, fresh: 'page' | 'section'): string {
  let desk = new Desk();
  try {
    const lines = text.split('\n');
    const out: string[] = [];
    for (let at = 0; at < lines.length; ) {
      const line = lines[at] ?? '';
      if (fresh === 'section' && line.startsWith('## ')) {
        desk.clear();
        desk = new Desk();
      }
      const opened = /^```(\w+)(?: (\S+))?( mended)?$/.exec(line);
      if (!opened) {
        out.push(line);
        at++;
        continue;
      }
      const end = lines.indexOf('```', at);
      if (end < 0) throw new Error(`A block isn't closed: ${line}`);
      const [, kind = '', file, mended] = opened;
      const block = { kind, file, mended: mended !== undefined, body: lines.slice(at + 1, end) };
      out.push(...lines.slice(at, end + 1));
      at = end + 1;
      if (kind === 'graft') at = quoted(lines, at, desk.findings(block), out);
      else if (kind === 'sh') at = shownBelow(lines, at, desk.run(block.body), out);
      else if (file !== undefined) desk.put(file, `${block.body.join('\n')}\n`);
    }
    return out.join('\n');
  } finally {
    desk.clear();
  }
}

/** The quoted paragraphs from a line on stay where they say the same; else those that would be true take their place. */
function quoted(lines: readonly string[], from: number, messages: readonly string[], out: string[]): number {
  let start = from;
  while (lines[start] === '') start++;
  let end = start;
  while (lines[end]?.startsWith('>')) end++;
  const stated = lines
    .slice(start, end)
    .map((line) => line.replace(/^> ?/, ''))
    .join('\n')
    .split(/\n\n/)
    .map((paragraph) => paragraph.replaceAll('\n', ' ').trim())
    .filter((paragraph) => paragraph !== '');
  const same = stated.length === messages.length && stated.every((paragraph, at) => paragraph === messages[at]);
  if (same) {
    out.push(...lines.slice(from, end));
    return end;
  }
  out.push('', ...messages.flatMap((message, at) => (at > 0 ? ['>', `> ${message}`] : [`> ${message}`])));
  return end;
}

/** The block behind a command stays where it fits; else what was printed takes its place. */
function shownBelow(lines: readonly string[], from: number, printed: readonly string[], out: string[]): number {
  let start = from;
  while (lines[start] === '') start++;
  if (lines[start] !== '```text') return from;
  const end = lines.indexOf('```', start + 1);
  const shown = lines.slice(start + 1, end);
  out.push(...lines.slice(from, start + 1), ...(fits(shown, printed) ? shown : renewed(shown, printed)), '```');
  return end + 1;
}

/** What was cut at its end stays cut after as many lines; what was cut elsewhere comes whole, to be cut anew. */
function renewed(shown: readonly string[], printed: readonly string[]): readonly string[] {
  const cut = shown.indexOf('…');
  return cut > 0 && cut === shown.length - 1 && cut < printed.length ? [...printed.slice(0, cut), '…'] : printed;
}

function fits(shown: readonly string[], printed: readonly string[]): boolean {
  const parts = shown.join('\n').split(/^…$/m);
  const pattern = parts.map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')).join('[\\s\\S]*?');
  return new RegExp(`^${pattern}$`).test(printed.join('\n'));
}

/** The folder a reader works in, with the examples in it. */
class Desk {
  private readonly around = mkdtempSync(join(tmpdir(), 'graftlog-docs-'));
  private readonly folder = join(this.around, 'desk');
  private readonly logs = new Map<string, string>();

  constructor() {
    mkdirSync(this.folder);
    cpSync(resolve('examples'), join(this.around, 'examples'), { recursive: true });
    // a link, so that the examples are no part of the log of this folder
    symlinkSync(join(this.around, 'examples'), join(this.folder, 'examples'));
    const command = join(this.around, 'graftlog');
    writeFileSync(command, `#!/bin/sh\nexec "${process.execPath}" "${cli}" "$@"\n`);
    chmodSync(command, 0o755);
  }

  clear(): void {
    rmSync(this.around, { recursive: true, force: true });
  }

  put(file: string, text: string): void {
    const path = join(this.folder, file);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }

  /** Findings of a block's log, as sentences with plain blanks. */
  findings({ file, mended, body }: Block): string[] {
    const text = `${file === undefined ? '' : (this.logs.get(file) ?? '')}${body.join('\n')}\n`;
    const files = file === undefined ? [['page.graft', text] as const] : [...new Map(this.logs).set(file, text)];
    const log = new Log();
    for (const [name, lines] of files) log.addFile(name, lines);
    const days = files.flatMap(([, lines]) => lines.match(/^\d{4}-\d{2}-\d{2}\b/gm) ?? []);
    if (file !== undefined && !mended) {
      this.logs.set(file, text);
      this.put(file, text);
    }
    const found = new Answers(log, parseIso(days.sort().at(-1) ?? '2026-01-01') as number).findings();
    return [...found].map(({ message }) => plain(message));
  }

  /** What lines typed into a terminal print. */
  run(lines: readonly string[]): string[] {
    const printed = lines.filter((line) => !isOwnScript(line)).map((line) => this.runLine(line));
    return plain(printed.join(''))
      .trimEnd()
      .split('\n')
      .map((line) => line.trimEnd());
  }

  private runLine(line: string): string {
    const command = line.replace(/^npm run -s graftlog -- /, 'graftlog ');
    const { status, stdout } = spawnSync('sh', ['-c', `{ ${command}\n} 2>&1`], {
      cwd: this.folder,
      encoding: 'utf8',
      timeout: 60_000,
      env: {
        ...process.env,
        PATH: `${this.around}:${process.env.PATH}`,
        // what the docs do with git knows nobody of this machine
        GIT_CONFIG_GLOBAL: '/dev/null',
        GIT_CONFIG_SYSTEM: '/dev/null',
        GIT_AUTHOR_NAME: 'mk',
        GIT_AUTHOR_EMAIL: 'mk@drumlin-lane.example',
        GIT_COMMITTER_NAME: 'mk',
        GIT_COMMITTER_EMAIL: 'mk@drumlin-lane.example',
      },
    });
    // `check` ends with 1 where something is an error, `import` where a row is left
    if (status !== 0 && !(status === 1 && /^graftlog (check|import)\b/.test(command)))
      throw new Error(`\`${line}\` ended with ${status}:\n${stdout}`);
    return stdout;
  }
}

const plain = (text: string): string => text.replaceAll('\u00A0', ' ');

/** A script of the project itself, such as `npm ci && npm start`: not run here. */
const isOwnScript = (line: string): boolean => /^npm (ci|start|test|run (?!-s graftlog))/.test(line);
