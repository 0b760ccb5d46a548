import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { verbWords } from '#grammar/vocabulary.ts';
import { asTried } from './support/doc-page.ts';
import { cli } from './support/terminal.ts';

const guide = readdirSync('examples/guide').map((name) => `examples/guide/${name}`);
/** The season is one log from top to bottom; elsewhere each section begins with an empty folder. */
const tried = ['README.md', ...guide];
const all = [...tried, 'DEVELOPERS.md', 'CHANGELOG.md'];
const read = (path: string): string => readFileSync(path, 'utf8');
/** What stands outside of blocks. */
const prose = (path: string): string => read(path).replace(/^```[\s\S]*?^```$/gm, '');
const codeIn = (path: string): string[] => [...prose(path).matchAll(/`([^`\n]+)`/g)].map((span) => span[1] ?? '');

describe.each(tried)('%s', (path) => {
  test('each log and each command says what the page shows (npm test -- -u writes it)', async () => {
    const fresh = path.endsWith('season.md') ? 'page' : 'section';
    await expect(asTried(read(path), fresh)).toMatchFileSnapshot(`../${path}`);
  }, 120_000);

  test('lines of the notation in its sentences can be read', () => {
    for (const code of codeIn(path)) {
      const [verb = '', next] = code.split(/\s+/);
      if (verbWords.has(verb) && next) expect(readLine(code).problems, code).toEqual([]);
    }
  });

  test('no dose', () => {
    expect(read(path)).not.toMatch(/\d\s*(ml|g|l|kg|oz)\b/i);
  });
});

describe.each(all)('%s', (path) => {
  test('its links lead somewhere', () => {
    for (const [, address = ''] of prose(path).matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^https?:/.test(address)) continue;
      const [file = '', heading] = address.split('#');
      const target = file === '' ? path : join(dirname(path), file);
      expect(existsSync(target), address).toBe(true);
      if (heading) expect(headingsOf(target), address).toContain(heading);
    }
  });

  test('the scripts and files it names are there', () => {
    const { scripts } = JSON.parse(read('package.json'));
    for (const [, script = ''] of read(path).matchAll(/\bnpm run (?:-s )?([\w:]+)/g))
      expect(scripts, script).toHaveProperty([script]);
    for (const code of codeIn(path))
      if (/^(grammar|server|client|tests|examples|\.ci)\/[\w./-]*$/.test(code))
        expect(existsSync(code), code).toBe(true);
  });
});

test('the walkthrough, page after page, is a log in good hands', () => {
  const { contributes } = JSON.parse(read('package.json'));
  const steps: { media: { markdown: string } }[] = contributes.walkthroughs[0].steps;
  const logs = steps.flatMap(({ media }) =>
    [...read(media.markdown).matchAll(/^```graft$[\s\S]*?^```$/gm)].map(String),
  );
  expect(logs).toHaveLength(3);
  const log = logs.map((block) => block.replace('```graft', '```graft 2026.graft')).join('\n\n');
  expect(asTried(log, 'page')).toBe(log);
});

const headingsOf = (path: string): string[] =>
  [...prose(path).matchAll(/^#+ (.*)$/gm)].map(([, title = '']) =>
    title
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\s_-]/gu, '')
      .replace(/\s/g, '-'),
  );

describe('every field of the JSON is told', () => {
  const page = 'examples/guide/terminal.md';
  test.each([
    ['check'],
    ['due', '--hours', '6'],
    ['stats', '--compare', 'hand,depth'],
    ['plan', '--takes', '60', '--like', 'A24', '--hours', '6'],
    ['trial', '--ways', 'side-veneer,cleft'],
  ])('%s', (command, ...more) => {
    const [, told = ''] =
      new RegExp(`^\\*\\*${command}\\*\\*([\\s\\S]*?)(?=^\\*\\*|$(?![\\s\\S]))`, 'm').exec(prose(page)) ?? [];
    const args = [cli, command, 'examples/drumlin-lane', '--on', '2025-06-20', '--format', 'json', ...more];
    const { stdout } = spawnSync(process.execPath, args, { encoding: 'utf8' });
    for (const key of keysOf(JSON.parse(stdout))) expect(told, key).toContain(`\`${key}\``);
  });
});

/** Names of fields, at any depth; not of what is counted or grouped by. */
function keysOf(value: unknown): Set<string> {
  if (typeof value !== 'object' || value === null) return new Set();
  if (Array.isArray(value)) return new Set(value.flatMap((one) => [...keysOf(one)]));
  return new Set(
    Object.entries(value).flatMap(([key, inner]) =>
      key === 'causes' || (key === 'key' && typeof inner === 'object') ? [key] : [key, ...keysOf(inner)],
    ),
  );
}
