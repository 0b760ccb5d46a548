import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { formatText } from '#grammar/format.ts';
import { readLine } from '#grammar/line.ts';
import { problemsIn } from '../support/reading.ts';

const read = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8');
const shipped = read('../../server/engine/practice.graft');

test('every line of the shipped practice reads without a word about it', () => {
  expect(problemsIn(shipped)).toEqual([]);
  const verbs = shipped.split('\n').map((text) => readLine(text).statement?.verb);
  expect(verbs.filter((verb) => verb === 'practice').length).toBeGreaterThan(100);
  expect(verbs.filter((verb) => verb === 'pair')).toHaveLength(9);
});

test('two seasons of a nursery: one slip, at its figure', () => {
  expect(problemsIn(read('../engine/logs/two-seasons.graft'))).toMatchObject([{ code: 'unit-slip', line: 27 }]);
});

test('the example logs read, but for the slips they are there to show, and are laid out', () => {
  const folder = new URL('../../examples/', import.meta.url);
  const logs = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.graft'));
  expect(logs.length).toBeGreaterThan(1);
  for (const name of logs) {
    const text = readFileSync(new URL(name, folder), 'utf8');
    // a healthy log at most one slip of a unit; nothing a newcomer would have to be told how to write
    const found = problemsIn(text).filter(({ code }) => code !== 'unit-slip');
    expect(found, name).toEqual([]);
    expect(formatText(text), name).toBe(text);
  }
});
