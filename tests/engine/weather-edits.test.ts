import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { dayOf } from '../support/log.ts';
import { answersOf, stationText } from '../support/weather.ts';
import { lineOf } from '../support/work.ts';

/* An edit is felt where it should be: what is kept from before is what a log read anew would say. */

const csv = stationText('2018-01-01', '2025-02-10', (iso, day) => {
  const warm = iso.slice(5) >= '03-01' ? 10 : 1;
  return iso.startsWith('2024-12') && day % 5 === 0 ? [-3, 4] : [warm, iso.slice(5, 7) === '07' ? 20 : warm + 3];
});
const on = '2025-02-01';

const seasons = [2019, 2020, 2021, 2022, 2023]
  .map(
    (year) => `batch  K${year}  Pinus parviflora / P. thunbergii  side-veneer  film  in frame
${year}-10-10  graft  K${year}.1..10
${year + 1}-03-1${year - 2019}  swell  K${year}.1..10
`,
  )
  .join('');
const text = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
place  yard
place  shed  shade wind-break
weather "station.csv"
batch  W24  Pinus parviflora / Pinus thunbergii  side-veneer  film
${seasons}2024-10-10  graft  W24.1..10  in shed
2024-10-11  graft  W24.11..20  in yard
2024-11-01  reading  shed  min 14C
2024-11-02  reading  shed  min 14C
2024-11-03  reading  shed  min 14.5C
`;

const all = (answers: Answers): string[] => [
  ...answers
    .findings()
    .map(({ entry, code, message, related }) =>
      [
        answers.log.document(entry.file)?.lineOf(entry),
        code,
        message,
        ...(related ?? []).map((one) => one.message),
      ].join(' '),
    ),
  ...answers.work().map((item) => `${lineOf(item)} ${item.why}`),
];

function opened() {
  const log = new Log();
  log.addFile('log.graft', text);
  const answers = answersOf(log, on, { 'station.csv': csv });
  all(answers);
  return { log, answers };
}

function edited(edits: readonly { readonly line: number; readonly text: string }[]) {
  const { log, answers } = opened();
  for (const { line, text: written } of edits) {
    const old = log.document('log.graft')?.entries[line]?.line.text ?? '';
    const range = { start: { line, character: 0 }, end: { line, character: old.length } };
    answers.apply(log.applyEdit('log.graft', range, written));
    all(answers);
  }
  const anew = new Log();
  anew.addFile('log.graft', log.document('log.graft')?.text() ?? '');
  return { kept: all(answers), anew: all(answersOf(anew, on, { 'station.csv': csv })), answers };
}

const lineOfText = (part: string) => text.split('\n').findIndex((line) => line.includes(part));

test('the log says what the edits below change: by the station, by five seasons', () => {
  const said = all(opened().answers).join('\n');
  expect(said).toContain('in 5 seasons on record');
  expect(said).not.toContain(' froze ');
});

test('a reading tells another offset: grafts of an earlier day at that place have frozen now', () => {
  const { kept, anew } = edited([
    { line: lineOfText('11-02'), text: '2024-11-02  reading  shed  min 11C' },
    { line: lineOfText('11-03'), text: '2024-11-03  reading  shed  min 10C' },
    { line: lineOfText('11-01'), text: '2024-11-01  reading  shed  min 10.5C' },
  ]);
  expect(kept).toEqual(anew);
  expect(kept.join('\n')).toContain('froze −2.5\u00A0°C in `shed` on 3 Dec by the station');
});

test('one more reading tells the same offset: findings say on how many days it was learned now', () => {
  const { kept, anew } = edited([
    { line: lineOfText('11-02'), text: '2024-11-02  reading  shed  min 11C' },
    { line: lineOfText('11-03'), text: '2024-11-03  reading  shed  min 10C' },
    // of a day when the grafts that froze stood elsewhere
    { line: lineOfText('11-01'), text: '2024-11-01  reading  shed  min 10.5C\n2025-01-10  move  W24.1..10  to yard' },
    { line: lineOfText('11-01'), text: '2025-01-20  reading  shed  min 1.5C\n2024-11-01  reading  shed  min 10.5C' },
  ]);
  expect(kept).toEqual(anew);
  expect(kept.join('\n')).toContain('(learned on 4 days)');
});

test('a key on any line but a `weather` or `site` line asks for no file, and leaves a place’s nights as they are', () => {
  const log = new Log();
  log.addFile('log.graft', `${text}practice  any  degree-base 5C\n`);
  let asked = 0;
  const file = { text: csv };
  const answers = new Answers(log, dayOf(on), () => {
    asked++;
    return file;
  });
  all(answers);
  const [before, nights] = [asked, answers.weather?.nights('shed')];
  const lines = log.document('log.graft')?.entries.map(({ line }) => line.text) ?? [];
  for (const [line, written] of lines.entries()) {
    if (written === '' || /^(weather|site)/.test(written)) continue;
    const end = { line, character: written.length };
    answers.apply(log.applyEdit('log.graft', { start: end, end }, '  # seen'));
    all(answers);
    expect([written, asked]).toEqual([written, before]);
  }
  expect(answers.weather?.nights('shed')).toBe(nights);
  const line = lineOfText('weather');
  answers.apply(log.applyEdit('log.graft', { start: { line, character: 0 }, end: { line, character: 0 } }, ' '));
  expect(asked).toBe(before + 1);
});

test('a swelling of one batch is felt in another of its pair', () => {
  const { kept, anew } = edited([{ line: lineOfText('2024-03-14'), text: '2024-04-20  swell  K2023.1..10' }]);
  expect(kept).toEqual(anew);
  const gone = edited([{ line: lineOfText('2024-03-14'), text: '' }]);
  expect(gone.kept).toEqual(gone.anew);
  expect(gone.kept.join('\n')).toContain('4 of 5 seasons');
});

test('any few edits, one after another, say what the log read anew says', () => {
  const lines = text.split('\n').length - 1;
  const written = fc.constantFrom(
    '',
    'weather "station.csv"  in yard',
    'weather "station.csv"  offset -2C',
    'weather "other.csv"',
    'place  shed  lat -40  shade',
    'place  yard  frost-free',
    '2024-11-04  reading  shed  min -1C  max 33C',
    '2024-11-05  reading  yard  min 8C',
    '2024-11-06  reading  yard  min 12C',
    '2020-03-30  swell  K2019.1..4',
    '2024-12-10  move  W24.1..3  to yard',
    'practice  any  degree-base 2C',
    'batch  W24  Picea abies / P. abies  side-veneer  film',
  );
  fc.assert(
    fc.property(
      fc.array(fc.record({ line: fc.integer({ min: 0, max: lines - 1 }), text: written }), {
        minLength: 1,
        maxLength: 4,
      }),
      (edits) => {
        const { kept, anew } = edited(edits);
        expect(kept).toEqual(anew);
      },
    ),
    { numRuns: 60 },
  );
});
