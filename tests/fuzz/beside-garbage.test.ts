import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import type { Finding } from '#server/engine/model.ts';
import { decode } from '#server/workspace/decode.ts';
import { anyLine } from '../support/lines.ts';
import { workLog } from '../support/logs.ts';
import { mutants } from './mutate.ts';
import { lineSeeds, logSeeds } from './seeds.ts';

const day = 21_500; // 2028-11-11: behind every log tried here

/** A line that says nothing the log could go by: no work, no name, no day. */
const garbage = fc
  .oneof(
    anyLine,
    mutants(lineSeeds).map((bytes) => decode(bytes).text),
    fc.string({ unit: 'binary', maxLength: 80 }),
  )
  .map((text) => text.replace(/[\r\n]/g, ' '))
  .filter((text) => {
    const { statement, date, time, dateLost } = readLine(text);
    return !statement && !date && !time && !dateLost;
  });

const logs = fc.oneof(
  workLog,
  fc.constantFrom(...logSeeds).map((log) => log.toString('utf8')),
  mutants(logSeeds).map((bytes) => decode(bytes).text),
);

function findingsOf(lines: readonly string[]): readonly Finding[] {
  const log = new Log();
  log.addFile('a.graft', lines.join('\n'));
  return new Answers(log, day).findings();
}

const said = ({ entry, span, code, severity, message, grafts }: Finding) =>
  [entry.line.text, span.start, span.end, code, severity, message, grafts].join(' | ');

/** What a finding on a line says where the line reads as it is, garbage or not, is all that garbage gives. */
test('a line of garbage anywhere: all others keep their findings, and it has its own alone', () => {
  let garbled = 0;
  fc.assert(
    fc.property(logs, garbage, fc.nat(60), (text, line, at) => {
      const lines = text.split(/\r\n|\r|\n/);
      const place = at % (lines.length + 1);
      const own = readLine(line).problems;
      const before = findingsOf(lines).map(said);
      const after = [...findingsOf([...lines.slice(0, place), line, ...lines.slice(place)])];
      const log = after.filter(({ entry }) => !(entry.line.text === line && !entry.line.statement && own.length > 0));
      const rest =
        own.length > 0 && lines.includes(line) ? before.filter((one) => !one.startsWith(`${line} | `)) : before;
      expect(log.map(said)).toEqual(rest);
      if (own.length > 0) garbled++;
    }),
    { numRuns: 400 },
  );
  expect(garbled).toBeGreaterThan(100);
});

test('one batch’s line turned to garbage: another batch, at another place, keeps its findings', () => {
  const nursery = [
    'place north frost-free shade wind-break',
    'place south frost-free shade wind-break',
    'batch N26 Pinus parviflora / Pinus thunbergii side-veneer in north film 38mm',
    'batch S26 Pinus mugo / Pinus sylvestris side-veneer in south film 38mm',
  ];
  const of = (batch: string) => [
    `2026-10-09 graft ${batch}.1..20 cut 22% by mk`,
    `2026-10-10 graft ${batch}.21 cut 80% by mk`,
    `2027-03-20 swell ${batch}`,
    `2027-03-24 open ${batch} 30%`,
    `2027-04-02 open ${batch} 20%`,
    `2027-06-30 fail ${batch}.22 dried`,
    `2027-07-01 take ${batch} x19`,
  ];
  const lines = [...nursery, ...of('N26'), ...of('S26')];
  const ofNorth = (all: readonly string[]) =>
    findingsOf(all)
      .filter(({ entry }) => entry.line.text.includes('N26'))
      .map(said);
  const before = ofNorth(lines);
  expect(before.length).toBeGreaterThan(4);
  fc.assert(
    fc.property(fc.nat(6), fc.oneof(garbage, fc.constant('')), (at, line) => {
      expect(ofNorth([...nursery, ...of('N26'), ...of('S26').map((one, i) => (i === at ? line : one))])).toEqual(
        before,
      );
    }),
    { numRuns: 200 },
  );
});
