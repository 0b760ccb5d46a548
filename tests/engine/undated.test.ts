import { expect, test } from 'vitest';
import { toDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import type { Finding, LogEdit } from '#server/engine/model.ts';

function findings(text: string): Finding[] {
  const log = new Log();
  log.addFile('log.graft', text);
  return new Answers(log, toDay(2027, 4, 20)).findings();
}

/** The log after each mend of its only finding, which then is gone. */
function mended(text: string): Record<string, string> {
  const [finding, ...others] = findings(text);
  expect([finding?.code, others]).toEqual(['no-date', []]);
  const after: Record<string, string> = {};
  for (const mend of finding?.mends ?? []) {
    const lines = text.split('\n');
    const at = lines.indexOf(finding?.entry.line.text ?? '');
    const line = lines[at] ?? '';
    const [{ where, span, text: put }] = mend.edits as [LogEdit];
    if (where === 'above') lines.splice(at, 0, put);
    else lines[at] = line.slice(0, span?.start) + put + line.slice(span?.end);
    after[mend.title] = lines.join('\n');
    expect(findings(lines.join('\n')), mend.title).toEqual([]);
  }
  return after;
}

const head = `place  frame  frost-free shade wind-break
batch  K27  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
`;

test('work without a day is given the day computed for, or that of the lines below it', () => {
  expect(mended(`${head}  8:30 graft  K27.1  cut 40%\n2027-03-15\ngraft  K27.2  cut 40%\n`)).toEqual({
    'Write 2027-04-20 on a line above': `${head}2027-04-20\n  8:30 graft  K27.1  cut 40%\n2027-03-15\ngraft  K27.2  cut 40%\n`,
    'Write 2027-03-15 on a line above': `${head}2027-03-15\n  8:30 graft  K27.1  cut 40%\n2027-03-15\ngraft  K27.2  cut 40%\n`,
    'Begin the line with 2027-04-20': `${head}  2027-04-20  8:30 graft  K27.1  cut 40%\n2027-03-15\ngraft  K27.2  cut 40%\n`,
  });
});

test('without a day below only the day computed for is offered', () => {
  expect(Object.keys(mended(`${head}graft  K27.1  cut 40%\n`))).toEqual([
    'Write 2027-04-20 on a line above',
    'Begin the line with 2027-04-20',
  ]);
});
