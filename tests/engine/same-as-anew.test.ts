import { expect, test } from 'vitest';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { sameAsAnew } from './same-as-anew.ts';

test('after any edits every answer is the one of the same text read anew', () => {
  expect(sameAsAnew(120)).toBeGreaterThan(500);
}, 120_000);

test('a batch that is no longer likened was spoken of last when its own lines say', () => {
  const log = new Log();
  log.addFile('log.graft', '2026-10-09  graft K26.1..8\n2027-10-01\nbatch M26 like K26\n');
  const answers = new Answers(log, parseIso('2027-11-13') as number);
  const silences = () => answers.findings().flatMap(({ code, message }) => (code === 'silent' ? [message] : []));
  expect(silences()).toEqual([]);
  answers.apply(log.applyEdit('log.graft', { start: { line: 2, character: 9 }, end: { line: 2, character: 18 } }, ''));
  expect(silences()).toEqual(['No word on K26 for 400 days.']);
});
