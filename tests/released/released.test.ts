import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { problemsIn, said } from '../support/reading.ts';
import { cli } from '../support/terminal.ts';

/*
 * A log is kept for years. Each notation that was released has a folder with lines of every verb and fact, what each of
 * them was read as then, and a log of two seasons with what became of its grafts. None of it is ever written anew.
 */

const project = resolve(import.meta.dirname, '../..');
const released = readdirSync(import.meta.dirname).filter((name) => /^\d/.test(name));

test('every version in the changes has its folder', () => {
  const changes = readFileSync(join(project, 'CHANGELOG.md'), 'utf8');
  const versions = [...changes.matchAll(/^## (\d+\.\d+\.\d+)/gm)].map(([, version]) => String(version));
  expect(versions).toContain(JSON.parse(readFileSync(join(project, 'package.json'), 'utf8')).version);
  expect(versions.filter((version) => !existsSync(join(import.meta.dirname, version)))).toEqual([]);
});

describe.each(released)('a log in the notation of %s', (version) => {
  const path = (name: string) => join(import.meta.dirname, version, name);
  const text = readFileSync(path('lines.graft'), 'utf8');

  test('has lines that read without a word about them, as they did', () => {
    expect(problemsIn(text)).toEqual([]);
    expect(text.trimEnd().split('\n').map(said)).toEqual(JSON.parse(readFileSync(path('lines.json'), 'utf8')));
  });

  test('tells of the same grafts what became of them', () => {
    const asked = ['stats', path('season.graft'), '--on', '2028-12-31', '--format', 'json'];
    const { groups } = JSON.parse(execFileSync(process.execPath, [cli, ...asked], { encoding: 'utf8' }));
    const then: { batch: string }[] = JSON.parse(readFileSync(path('season.json'), 'utf8'));
    expect(groups).toMatchObject(then.map(({ batch, ...figures }) => ({ key: { batch }, ...figures })));
  });
});
