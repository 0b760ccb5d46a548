import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import type { Statement } from '#grammar/statement.ts';
import { expectMarks } from '../support/marks.ts';

const problems = (log: string) =>
  log.split('\n').flatMap((text, line) =>
    readLine(text).problems.map((problem) => ({
      line,
      start: problem.span.start,
      end: problem.span.end,
      severity: problem.severity,
      code: problem.code,
      message: problem.message,
    })),
  );
const expectProblems = (log: string) => expectMarks(log, problems);

/** What a line says, without where it says it: facts as `key value`. */
function said(text: string): string {
  const { statement } = readLine(text);
  return statement ? sayStatement(statement) : '';
}

function sayStatement(statement: Statement): string {
  const sets = statement.sets.map((set) =>
    [
      set.name.text,
      set.numbers?.join('-'),
      set.rest && 'rest',
      set.except?.map((e) => `except ${e.numbers.join('-')}`),
      set.count && `x${set.count.value}`,
    ]
      .filter(Boolean)
      .join(' '),
  );
  const taxa = statement.taxa
    ? [statement.taxa.scion, statement.taxa.interstem, statement.taxa.stock]
        .filter((t) => t !== undefined)
        .map((t) => t.text)
        .join(' / ')
    : undefined;
  const facts = statement.facts.map((fact) => {
    const value = fact.value;
    const ends = (amount: { low?: number; high?: number }) =>
      amount.low === amount.high ? `${amount.low}` : `${amount.low ?? ''}..${amount.high ?? ''}`;
    const text =
      value.kind === 'amount'
        ? `${ends(value)} ${value.measure}`
        : value.kind === 'size'
          ? `${value.across ? ends(value.across) : '?'} x ${value.along ? ends(value.along) : '?'}`
          : value.kind === 'word'
            ? value.word
            : value.kind === 'name'
              ? value.name.text
              : value.kind === 'names'
                ? value.names.map((name) => name.text).join(',')
                : value.kind === 'text'
                  ? `"${value.text}"`
                  : value.kind === 'words'
                    ? value.words.join(',')
                    : value.kind;
    return `${fact.key} ${text}${fact.lost ? ` (${fact.lost})` : ''}`;
  });
  return [
    statement.verb,
    ...sets,
    ...(taxa ? [taxa] : []),
    ...facts,
    ...(statement.remark ? [`"${statement.remark.text}"`] : []),
    ...(statement.idle ? ['(idle)'] : []),
  ].join(' | ');
}

describe('look-alikes: what a line is read as', () => {
  test.each([
    ['graft K26.1 out 1.5in', 'graft | K26 1-1 | out 38.1 length'],
    ['check K26 "two whorls in frame"', 'check | K26 | "two whorls in frame"'],
    ['graft K26.1 whorls 2 in frame', 'graft | K26 1-1 | whorls 2 number | in frame'],
    ['reading frame rh 95% min 2C', 'reading | frame | rh 0.95 share | min 2 temperature'],
    ['collect L7 Pinus parviflora x60', 'collect | L7 | Pinus parviflora | count 60 number'],
    ['graft K26.1 scion 4 x 90mm', 'graft | K26 1-1 | scion 4 x 90'],
    ['graft K26.1 scion 4mmx90mm', 'graft | K26 1-1 | scion 4 x 90'],
    ['graft K26.1 scion 4mm x 90', 'graft | K26 1-1 | scion 4 x 90'],
    ['collect L1 scion 8mm x60', 'collect | L1 | scion ? x 8 (slipped) | count 60 number'],
    ['headback K26 1/3', 'headback | K26 | share 0.3333333333333333 share'],
    ['graft K26.1 short 3/16in long 1 1/4in', 'graft | K26 1-1 | short 4.7625 length | long 31.75 length'],
    ["batch M1 Malus domestica 'Gala' / M. 'M9'", "batch | M1 | Malus domestica 'Gala' / Malus 'M9'"],
    ['open K26.1..12,14 10%', 'open | K26 1-12-14-14 | share 0.1 share'],
    ['open K26.1-12, 14 10%', 'open | K26 1-12-14-14 | share 0.1 share'],
    ['open K26.12..1 10%', 'open | K26 1-12 | share 0.1 share'],
    ['graft K26.1 cut 30..50%', 'graft | K26 1-1 | cut 0.3..0.5 share'],
    ['graft K26.1 cut 30-50%', 'graft | K26 1-1 | cut 0.3..0.5 share'],
    ['reading yard min -4..-1C', 'reading | yard | min -4..-1 temperature'],
    ['open K26.1,5 10%', 'open | K26 1-1-5-5 | share 0.1 share'],
    ['graft K26.1 cut 1/3', 'graft | K26 1-1 | cut 0.3333333333333333 share'],
    ["graft K1.1 by O'Brien,Björn", "graft | K1 1-1 | by O'Brien,Björn"],
    ['open K26.1..8, 10 %', 'open | K26 1-8 | share 0.1 share'],
    ['graft K26.1 cut: 40% in=frame', 'graft | K26 1-1 | cut 0.4 share | in frame'],
    ['Graft K26.1', 'graft | K26 1-1'],
    ['grafted K26.1', 'graft | K26 1-1'],
    ['graft K26.1 side veneer frost free', 'graft | K26 1-1 | method side-veneer | frost-free flag'],
    ['graft K26.1 rootstock 9mm', 'graft | K26 1-1 | stock 9 length'],
    ['vent K26 20%', 'open | K26 | share 0.2 share'],
    ['batch B1 tie Acer palmatum / A. rubrum', 'batch | B1 | Acer palmatum / Acer rubrum | tie flag'],
    ['graft K1.1 by mk, jo cut 40%', 'graft | K1 1-1 | by mk,jo | cut 0.4 share'],
    ['site X zone 7b', 'site | X | zone "7b"'],
    ['take B26 K26 except K26.13,14', 'take | B26 | K26 except 13-14'],
    ['fail S27.1..40 x4 rotted', 'fail | S27 1-40 x4 | cause rotted'],
    ['sell S27 to "garden centre"', 'sell | S27 | to "garden centre"'],
    ['check plump', 'check | plump flag'],
    [
      "tree M7 Abies koreana 'Horstmann's Silberlocke' in yard",
      "tree | M7 | Abies koreana 'Horstmann's Silberlocke' | in yard",
    ],
    ['batch A1 Acer palmatum / Acer sp. / Acer rubrum', 'batch | A1 | Acer palmatum / Acer sp. / Acer rubrum'],
  ])('%s', (text, meaning) => {
    expect(said(text)).toBe(meaning);
  });
});

describe('what can’t be read, in a grower’s words', () => {
  test('a date that is no day, or two', () => {
    expectProblems(`
2026-02-30
#^^^^^^^^^ error bad-date: 2026-02-30 is not a day: February 2026 has 28.
9.10.2026
#^^^^^^^^ error bad-date: 9.10.2026 is read two ways: 2026-10-09 or 2026-09-10.
2026-2-1 check frame
#^^^^^^^ warning bad-date: 2026-2-1 is read as 2026-02-01: months and days have two digits.
2026-13-01
#^^^^^^^^^ error bad-date: 2026-13-01 is not a day: there is no month 13.
`);
  });
  test('the verb comes first', () => {
    expectProblems(`
K26.1 taken
#^^^^ error unreadable: The verb comes first: \`take K26.1\`.
opne K26 20%
#^^^ error unknown-word: \`opne\` is no verb of the notation. Is it \`open\`?
zzzz K26
#^^^ error unknown-word: \`zzzz\` is no verb of the notation: a line begins with what was done, such as \`graft\` or \`check\`.
`);
  });
  test('units', () => {
    expectProblems(`
graft K26.1 cut 40
#               ^^ error wrong-unit: 40 what? \`40%\` or \`40mm\`.
open K26 20
#        ^^ error wrong-unit: 20 what? \`20%\`.
graft K26.1 cut 1,5mm
#               ^^^^^ warning decimal-comma: 1,5mm is read as 1.5mm: the notation writes a decimal point.
graft K26.1 out 5m
#               ^^ error wrong-unit: \`5m\` doesn’t fit \`out\`: \`5mm\` or \`5cm\`.
graft K26.1 long 30cm
#                ^^^^ error unit-slip: \`long\` 30cm: 4 to 120 mm is plausible; is a figure or a unit slipped?
graft K26.1 cut 12" stock 2in
#               ^^^ error wrong-unit: \`12"\`: inches are written \`12in\`.
graft K26.1 cut 30%..
#               ^^^^^ error missing-value: \`30%..\` leaves an end open; that is for practice lines. After \`cut\` comes how deep: \`cut 40%\` or \`cut 3mm\`.
graft K26.1 cut 12mm stock 9mm
#           ^^^^^^^^ error unit-slip: Cut 12 mm into 9 mm: that is through the whole stock.
graft K26.1 long 10mm short 20mm
#                     ^^^^^^^^^^ error unit-slip: The short face, 20 mm, is longer than the long one, 10 mm: are they swapped?
`);
  });
  test('words, names, texts', () => {
    expectProblems(`
graft K26.1 whorls
#           ^^^^^^ error missing-value: After \`whorls\` comes how many rings of needles stay: \`whorls 2\`.
graft K26.1 frosfree
#           ^^^^^^^^ error unknown-word: \`frosfree\` is no word for a line with \`graft\`. Is it \`frost-free\`?
graft 26.1 cut 40%
#     ^^^^ error unreadable: Names start with a letter: \`B26.1\`.
check K26 "left open
#         ^^^^^^^^^^ error unreadable: This text is not closed: a quotation mark belongs behind it.
batch K26 Pinus 'Tenysu
#               ^^^^^^^ error unreadable: This cultivar’s name is not closed: a single quote belongs behind it.
check K26 "one" "two"
#               ^^^^^ error contradiction: A second text on this line: put both into one.
graft K26.1 under left
#                 ^^^^ error contradiction: \`under\` and \`left\` on one line: one of them holds.
take K26 x0
#        ^^ error unit-slip: \`x0\`: a count begins at 1.
graft K26.0 cut 40%
#     ^^^^^ error unit-slip: \`K26.0\`: numbers begin at 1.
graft K26.1..10000000
#     ^^^^^^^^^^^^^^^ error set-too-large: \`K26.1..10000000\`: numbers up to 999,999 are read. Is a figure too many?
open K26
#^^^ error missing-value: After \`open\` comes how far it is now: \`open K26.1..11  20%\`.
accept cut-dep
#      ^^^^^^^ error unknown-word: \`cut-dep\` is no finding’s code: is it \`cut-deep\`?
`);
  });
  test('practice lines', () => {
    expectProblems(`
practice any off oct-mar
#                ^^^^^^^ error unknown-word: \`oct-mar\` is written \`oct..mar\`: a span with two dots, months in small letters.
practice any within feb-30..mar-01 work look after word wait 7d
#                   ^^^^^^^^^^^^^^ error bad-date: feb-30..mar-01: no year has such a day.
practice any work look after word wait 7d cut 30..50%
#                                         ^^^^^^^^^^^ error contradiction: A line with \`work\` holds no other rule: give \`cut\` a line of its own.
practice any take-after 42d
#            ^^^^^^^^^^ error unknown-word: \`take-after\` is written as a sentence: \`earliest take  after graft  wait 42d\`.
`);
  });
  test('marks of two versions, and a line too long', () => {
    expect(problems('<<<<<<< mine').map((p) => p.code)).toEqual(['unreadable']);
    expect(problems('=======').map((p) => p.message)).toEqual([
      'From here on stands the other version: keep the right lines of both, and take the marks out.',
    ]);
    expect(problems(`check K26 "${'x'.repeat(2000)}"`).map((p) => p.message)).toEqual([
      'This line has 2,012 characters; up to 2,000 are read: one line for each piece of work.',
    ]);
  });
});

test('what slipped or can’t be read is unknown, and the rest of its line holds', () => {
  expect(said('graft K26.1..11 cut 40 whorls 2')).toBe('graft | K26 1-11 | cut none (unread) | whorls 2 number');
  expect(said('graft K26.12 cut 40% long 30cm by mk')).toBe(
    'graft | K26 12-12 | cut 0.4 share | long 300 length (slipped) | by mk',
  );
  expect(said('open K26 20')).toBe('open | K26 | share none (unread) | (idle)');
});
