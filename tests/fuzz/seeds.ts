import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { globSync } from 'tinyglobby';
import { rowABatch, rowAGraft } from '../import/sheets.ts';

const project = resolve(import.meta.dirname, '../..');

const filesIn = (pattern: string): Buffer[] =>
  globSync(pattern, { cwd: project })
    .sort()
    .map((file) => readFileSync(join(project, file)));

/** The two logs of every page of a finding: small, whole, and each about another matter. */
const pageLogs = filesIn('grammar/pages/*.md').flatMap((page) =>
  [...page.toString('utf8').matchAll(/^```graft\n(.*?)^```$/gms)].map((block) => Buffer.from(block[1] ?? '')),
);

/** A year of the example is long: some of its lines behind the places, trees and batches they are about. */
function stretches(log: Buffer, lines = 24): Buffer[] {
  const all = log.toString('utf8').split('\n');
  const head = all.filter((line) => /^(site|place|tree|batch)\b/.test(line)).slice(0, 14);
  return Array.from({ length: Math.ceil(all.length / lines) }, (_, i) =>
    Buffer.from([...head, ...all.slice(i * lines, (i + 1) * lines)].join('\n')),
  );
}

/** Logs that are read today, as bytes. */
export const logSeeds: readonly Buffer[] = [
  ...pageLogs,
  ...filesIn('tests/engine/logs/*.graft'),
  ...filesIn('server/engine/practice.graft').flatMap((log) => stretches(log)),
  ...filesIn('examples/**/*.graft').flatMap((log) => stretches(log)),
];

/** Their lines, one of a kind. */
export const lineSeeds: readonly Buffer[] = [
  ...new Set(logSeeds.flatMap((log) => log.toString('utf8').split('\n')).filter((line) => line.trim() !== '')),
].map((line) => Buffer.from(line));

export const sheetSeeds: readonly Buffer[] = [rowAGraft, rowABatch].map((text) => Buffer.from(text));

export const stationSeeds: readonly Buffer[] = [
  ...filesIn('examples/**/*.csv').map((file) => file.subarray(0, 3000)),
  Buffer.from(
    '"STATION","DATE","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"\n"XX1","2026-01-01","   31",",,E","  -42",",,E"\n"XX1","2026-01-02","   45",",,E","  -99",",I,E"\n',
  ),
  Buffer.from('\uFEFFdate;temp_min;temp_max\r\n2026-01-01;-4,2;3,1\r\n2026/1/2;−0,5;\r\n'),
];
