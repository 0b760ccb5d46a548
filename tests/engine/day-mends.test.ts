import { expect, test } from 'vitest';
import type { Code } from '#grammar/codes.ts';
import { toDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import type { Finding, LogEdit } from '#server/engine/model.ts';

function findings(text: string): Finding[] {
  const log = new Log();
  log.addFile('log.graft', text);
  return new Answers(log, toDay(2027, 4, 20)).findings();
}

/** The log after each mend of its first finding; all are of one code, and gone then. */
function mended(text: string, code: Code = 'no-date'): Record<string, string> {
  const [finding, ...others] = findings(text);
  expect([...new Set([finding, ...others].map((one) => one?.code))]).toEqual([code]);
  const after: Record<string, string> = {};
  for (const mend of finding?.mends ?? []) {
    const lines = text.split('\n');
    const [{ entry, where, span, text: put }] = mend.edits as [LogEdit];
    const at = lines.indexOf(entry.line.text);
    const line = lines[at] ?? '';
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

test('a day to come that is of these weeks but for its year is made this year’s, on the line that says it', () => {
  const made = `${head}2027-03-15  graft  K27.1  cut 40%\n`;
  const future = (lines: string) => mended(made + lines, 'future-date');
  expect(future('2028-04-02  check  K27  green\n')).toEqual({
    'Make it 2027-04-02': `${made}2027-04-02  check  K27  green\n`,
  });
  // the day line it hangs on, so that all under it come right
  expect(future('2028-04-02\n\ncheck  K27  green\nwater  frame\n')).toEqual({
    'Make it 2027-04-02': `${made}2027-04-02\n\ncheck  K27  green\nwater  frame\n`,
  });
  // tomorrow, and what would be long ago, are for the grower to tell
  expect(future('2027-04-21  check  K27  green\n')).toEqual({});
  expect(future('2028-01-05  check  K27  green\n')).toEqual({});
});
