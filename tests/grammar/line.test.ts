import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { expectProblems, problemsIn, said } from '../support/reading.ts';

describe('what the hand writes otherwise is read all the same', () => {
  test.each([
    // punctuation between facts
    ['graft K26.1 cut: 40% in=frame', 'graft | K26.1 | cut 40% | in frame'],
    ['graft K26.1, cut 40%; whorls 2, by mk', 'graft | K26.1 | cut 40% | whorls 2 | by mk'],
    ['graft K26.1 cut 40%,whorls 2', 'graft | K26.1 | cut 40% | whorls 2'],
    // facts come in any order
    ['fail dried K26.4', 'fail | K26.4 | cause dried'],
    ['check plump green K26', 'check | K26 | plump | green'],
    // a capital on the verb, past forms, the other country's word
    ['Graft K26.1', 'graft | K26.1'],
    ['grafted K26.1', 'graft | K26.1'],
    ['took K26', 'take | K26'],
    ['graft K26.1 rootstock 9mm', 'graft | K26.1 | stock 9mm'],
    ['vent K26 20%', 'open | K26 | share 20%'],
    ['store L7 to fridge', 'move | L7 | to fridge'],
    ['rebind K26 tie raffia', 'retie | K26 | tie "raffia"'],
    ['rebind K26 film 38mm', 'rewrap | K26 | film 38mm'],
    ['rebind K26 bag by mk', 'rewrap | K26 | bag | by mk'],
    ['graft K26.1...12', 'graft | K26.1..12'],
    ['open K26.1…12,14 20%', 'open | K26.1..12,14 | share 20%'],
    ['check K26 mold tight', 'check | K26 | mould | biting'],
    ['practice any off fall', 'practice | any | off autumn'],
    // a blank for a hyphen
    ['graft K26.1 side veneer frost free', 'graft | K26.1 | method side-veneer | frost-free'],
    ['graft K26.1 whip and tongue', 'graft | K26.1 | method whip-and-tongue'],
    ['graft K26.1 t bud', 'graft | K26.1 | method t-bud'],
    ['cut back K26 1/3', 'headback | K26 | share 33.333333%'],
    ['plant out K26', 'sell | K26'],
    ['practice side veneer needs frost free', 'practice | side-veneer | needs frost-free'],
    [
      'practice any work judge after first swell wait 42d',
      'practice | any | work judge | after first-swell | wait 42d',
    ],
    // keys that need not be written, written
    ['fail K26 cause dried', 'fail | K26 | cause dried'],
    ['graft K26.1 method cleft wood soft', 'graft | K26.1 | method cleft | wood soft'],
    // signs
    ['reading yard min −4C', 'reading | yard | min -4C'],
    ['graft K26.1 scion 4 × 90 mm', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1 branch “3rd left”', 'graft | K26.1 | branch "3rd left"'],
    ['tree T1 Abies ‘Silberperl’', "tree | T1 | Abies 'Silberperl'"],
    ['check K26 "said ""no"" # twice" # remark', 'check | K26 | "said "no" # twice"'],
    // plants
    ['tree T1 x Cuprocyparis leylandii', 'tree | T1 | × Cuprocyparis leylandii'],
    ['tree T1 Acer palmatum var. dissectum', 'tree | T1 | Acer palmatum var. dissectum'],
    ["tree T1 Acer palmatum Dissectum Group 'Seiryu'", "tree | T1 | Acer palmatum Dissectum Group 'Seiryu'"],
    ['batch A1 Acer palmatum / Acer sp. / A. rubrum', 'batch | A1 | Acer palmatum / Acer sp. / Acer rubrum'],
    // sets
    ['take B26 K26 except K26.13,14', 'take | B26 | K26 except K26.13,14'],
    ['take K26 except K26.3, K26.5', 'take | K26 except K26.3 except K26.5'],
    ['fail K26 rest rejected', 'fail | K26 rest | cause rejected'],
    ['fail S27.1..40 x4 rotted', 'fail | S27.1..40 x4 | cause rotted'],
    ['sell S27 to "garden centre"', 'sell | S27 | to "garden centre"'],
    ['move K26 T14 L7 to yard', 'move | K26 | T14 | L7 | to yard'],
    ['check', 'check'],
    ['check "all well"', 'check | "all well"'],
  ])('%s', (text, meaning) => {
    expect(said(text)).toBe(meaning);
    expect(readLine(text).problems).toEqual([]);
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
watch K26
#^^^^ error unknown-word: \`watch\` is no verb of the notation. Is it \`check\` or \`swell\`?
judge K26
#^^^^ error unknown-word: \`judge\` is no verb of the notation. Is it \`take\` or \`fail\`?
severing K26
#^^^^^^^ error unknown-word: \`severing\` is no verb of the notation. Is it \`sever\`?
zzzz K26
#^^^ error unknown-word: \`zzzz\` is no verb of the notation: a line begins with what was done, such as \`graft\` or \`check\`.
`);
  });
  test('a cause that is none: which there are', () => {
    const causes =
      '`frozen` `dried` `rotted` `moved` `broken` `girdled` `rejected` `pest` `stock` or `unknown`, or leave it out.';
    expect(readLine('fail K26.3 died').problems.map(({ message }) => message)).toEqual([
      `\`died\` is no cause: ${causes}`,
    ]);
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
    expect(problemsIn('<<<<<<< mine').map((p) => p.code)).toEqual(['unreadable']);
    expect(problemsIn('=======').map((p) => p.message)).toEqual([
      'From here on stands the other version: keep the right lines of both, and take the marks out.',
    ]);
    expect(problemsIn(`check K26 "${'x'.repeat(2000)}"`).map((p) => p.message)).toEqual([
      'This line has 2,012 characters; up to 2,000 are read: one line for each piece of work.',
    ]);
  });
});

describe('one slip is one finding', () => {
  test('a word out of place takes its value along', () => {
    expectProblems(`
move L7 in fridge
#       ^^ error unknown-word: \`move\` says where to with \`to\`: \`to fridge\`.
place frame in yard
#           ^^ error unknown-word: \`in\` is no word for a line with \`place\`.
graft K26.1 Cut 40%
#           ^^^ error unknown-word: \`Cut\` is written small: \`cut\`.
graft K26.1 tape 38mm
#           ^^^^ error unknown-word: \`tape\` could be two things: is it \`film\` or \`tie\`?
graft K26.1 both
#           ^^^^ error unknown-word: \`both\` stands behind its word: \`match both\`.
weather station.csv in yard
#       ^^^^^^^^^^^ error missing-value: A path stands in double quotes: \`weather "station.csv"\`.
batch K1 Pinus parviflora on P. thunbergii
#                         ^^ error unknown-word: A pair is written with a slash: \`scion / understock\`.
tree T1 Pinus Mugo
#             ^^^^ error contradiction: A second plant; or is it the kind of Pinus? That is written small: \`mugo\`.
`);
  });

  test('sets', () => {
    expectProblems(`
take rest
#    ^^^^ error unreadable: \`rest\` stands right behind its set: \`take K26 rest\`.
take K26 except 3
#               ^ error missing-value: After \`except\` come the grafts left out, with their batch: \`except K26.3\`.
take K26 except
#        ^^^^^^ error missing-value: After \`except\` come the grafts left out, with their batch: \`except K26.3\`.
graft K26
#^^^^ error missing-value: Which of \`K26\` were made: \`graft K26.1..12\` or \`graft K26 x12\`.
graft K26.1 K27.2
#           ^^^^^ error contradiction: A line with \`graft\` speaks of one set: give \`K27\` a line of its own.
tree T3 in yard x3
#               ^^ error unreadable: A line with \`tree\` counts nothing.
take K26 x1000000
#        ^^^^^^^^ error set-too-large: 1,000,000 grafts in one line: up to 999,999 are read.
`);
  });

  test('what is asked for', () => {
    expectProblems(`
move K26 to
#        ^^ error missing-value: After \`to\` comes where to: \`to frame\`.
sell K26 to
#        ^^ error missing-value: After \`to\` comes to whom: \`to "garden centre"\`.
cover frame
#^^^^ error missing-value: After \`cover\` comes what it keeps off: \`cover frame  frost-free\`.
reading frame
#^^^^^^ error missing-value: After the place comes what was read there: \`reading frame  min 1.5C\`.
reading min 2C
#^^^^^^ error missing-value: After \`reading\` comes the place: \`reading frame  min 1.5C\`.
pair Pinus parviflora good
#^^^ error missing-value: After \`pair\` come scion and understock: \`pair Pinus parviflora / Pinus thunbergii  good\`.
pair Pinus parviflora / P. thunbergii
#^^^ error missing-value: Behind a pair stands how it does: \`good\`, \`fair\`, \`poor\` or \`never\`.
take
#^^^ error missing-value: After \`take\` comes which grafts: \`take K26\`.
place frame capacity 2.5
#                    ^^^ error missing-value: After \`capacity\` comes a whole number: \`capacity 400\`.
`);
  });

  test('two things that can’t both hold', () => {
    expectProblems(`
graft K26.1 asleep active
#                  ^^^^^^ error contradiction: \`asleep\` and \`active\` on one line: one of them holds.
site X lat 47 lat 48
#             ^^^^^^ error contradiction: \`lat\` twice on one line: one of them holds.
take K26 x3 x4
#           ^^ error contradiction: \`x3\` and \`x4\` on one line: one of them holds.
`);
  });

  test('a line half typed says what is still to come', () => {
    expectProblems(`
graft K26.
#        ^ error unreadable: Behind the dot of a set comes a number: \`K26.1\`, \`K26.1..12\`.
take K26.1..
#         ^^ error unreadable: Behind the dot of a set comes a number: \`K26.1\`, \`K26.1..12\`.
graft K26.1 by
#           ^^ error missing-value: After \`by\` comes who did it: \`by mk\`.
`);
  });

  test('signs that are no text, and letters lost on the way', () => {
    const lost = 'Here stands a sign that is no text: take it out, or write the letter again.';
    for (const text of ['graft K26.1\0', 'graft K26.1  \x1b', 'graft K26.1  \uFFFD'])
      expect(readLine(text).problems, JSON.stringify(text)).toMatchObject([{ code: 'unreadable', message: lost }]);
  });

  test('a day spelled otherwise is a day line that can’t be read, not a line to pass over', () => {
    expectProblems(`
9 Oct 2026
#^^^^^^^^^ error bad-date: 9 Oct 2026 is written 2026-10-09.
October 9, 2026
#^^^^^^^^^^^^^^ error bad-date: October 9, 2026 is written 2026-10-09.
2026/10/09
#^^^^^^^^^ error bad-date: 2026/10/09 is written with hyphens: 2026-10-09.
20261009
#^^^^^^^ error bad-date: 20261009 is written 2026-10-09.
10-09-2026
#^^^^^^^^^ error bad-date: 10-09-2026 is written 2026-09-10 or 2026-10-09.
2026-10
#^^^^^^ error bad-date: 2026-10: dates are written year-month-day, 2026-10-09.
2026-1
#^^^^^ error bad-date: 2026-1: dates are written year-month-day, 2026-10-09.
2026-10-
#^^^^^^^ error bad-date: 2026-10-: dates are written year-month-day, 2026-10-09.
2026-10-09graft K26.1
#^^^^^^^^^ error bad-date: A blank belongs behind the date: 2026-10-09.
`);
    for (const text of ['9 Oct 2026', '2026/10/09', '20261009', '2026-10'])
      expect(readLine(text).dateLost, text).toBe(true);
  });
});
