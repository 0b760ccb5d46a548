import { describe, expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { reservedWords } from '#grammar/vocabulary.ts';
import { expectProblems, problemsIn, said } from '../support/reading.ts';

// Lines that could be read two ways, and the one way they are read.

const reads = (rows: readonly (readonly [string, string])[]) => {
  for (const [text, meaning] of rows) {
    expect(said(text), text).toBe(meaning);
    expect(problemsIn(text), text).toEqual([]);
  }
};

describe('lexer and grammar', () => {
  test('a figure with a unit or a size behind a set’s comma is no graft', () => {
    reads([
      ['open K26.1..8, 10 %', 'open | K26.1..8 | share 10%'],
      ['open K26.1..8, 10..12%', 'open | K26.1..8 | share 10..12%'],
      ['open K26.1..8,10 12%', 'open | K26.1..8,10 | share 12%'],
      ['headback K26.1, 1/3', 'headback | K26.1 | share 33.333333%'],
      ['graft K26.1, 4 x 90mm', 'graft | K26.1 | scion 4mm x 90mm'],
      ['graft K26.1, 4x90mm', 'graft | K26.1 | scion 4mm x 90mm'],
      ['take K26.1, 4', 'take | K26.1,4'],
    ]);
  });

  test('an optional value is lower case: a capital begins a plant', () => {
    reads([
      ['batch B1 tie Acer palmatum / A. p.', 'batch | B1 | Acer palmatum / Acer palmatum | tie'],
      ['batch B1 tie rubber wax hot', 'batch | B1 | tie "rubber" | wax "hot"'],
      ['batch B1 wax tie "raffia, wet"', 'batch | B1 | wax | tie "raffia, wet"'],
      ['graft K1.1 tie cut 40%', 'graft | K1.1 | tie | cut 40%'],
    ]);
  });

  test('a line whose verb and target were read takes part without what could not be', () => {
    const line = (text: string) => readLine(text).statement?.idle ?? false;
    expect(line('graft K26.1..11 cut 40')).toBe(false);
    expect(line('take K26 frosfree 3')).toBe(false);
    for (const text of ['open K26', 'open K26 20', 'headback K26', 'move K26', 'move K26 to', 'cover frame'])
      expect(line(text), text).toBe(true);
    for (const text of ['uncover frame', 'sever M27', 'open K26 20%', 'move K26 to frame', 'cover frame shade'])
      expect(line(text), text).toBe(false);
  });

  test('what slipped or can’t be read is unknown, not absent', () => {
    expect(said('graft K26.1 cut 40 long 30cm whorls 2')).toBe(
      'graft | K26.1 | cut none (unread) | long 300mm (slipped) | whorls 2',
    );
  });

  test('a first word that is no verb; the rest of the line is not looked at', () => {
    expectProblems(`
opne K26 twenty 4 5 6
#^^^ error unknown-word: \`opne\` is no verb of the notation. Is it \`open\`?
wibble K26.1 %%
#^^^^^ error unknown-word: \`wibble\` is no verb of the notation: a line begins with what was done, such as \`graft\` or \`check\`.
K26.1 cut 40
#^^^^ error unreadable: The verb comes first: \`take K26.1\`.
`);
  });

  test('in `by` and `accept` a blank may follow the list’s comma', () => {
    reads([
      ['graft K1.1 by mk, jo cut 40%', 'graft | K1.1 | by mk,jo | cut 40%'],
      ['graft K1.1 by mk, cut 40%', 'graft | K1.1 | by mk | cut 40%'],
      ['graft K1.1 by mk, under', 'graft | K1.1 | by mk | side under'],
      ['take K26 by mk, B26', 'take | K26 | B26 | by mk'],
      ['accept open-soon, open-wide', 'accept | open-soon | open-wide'],
      ['accept open-soon, K26', 'accept | open-soon | K26'],
      ['open K26 30% accept open-soon, open-wide', 'open | K26 | share 30% | accept open-soon,open-wide'],
    ]);
  });

  test('a lower-case word behind a place may be the rest of its name', () => {
    reads([['graft K26.1 in cold frame under', 'graft | K26.1 | in cold | side under | frame?']]);
    // `move` takes sets: the log, which knows the names, joins the two
    reads([['move K26 to cold frame', 'move | K26 | frame | to cold']]);
  });

  test('a zone is one run of letters and digits', () => {
    reads([
      ['site X zone 7b', 'site | X | zone "7b"'],
      ['site X zone 10a lat -33.9', 'site | X | zone "10a" | lat -33.9'],
      ['site X tz America/Argentina/Buenos_Aires', 'site | X | tz "America/Argentina/Buenos_Aires"'],
      ['site X tz Etc/GMT+5', 'site | X | tz "Etc/GMT+5"'],
    ]);
    expectProblems(`
site X tz Europe/Berln
#         ^^^^^^^^^^^^ error unknown-word: \`Europe/Berln\` is no time zone: they go by continent and city, such as \`Europe/Berlin\`.
`);
  });

  test('an opened quote without its end', () => {
    expectProblems(`
batch K26 Pinus 'Tenysu
#               ^^^^^^^ error unreadable: This cultivar’s name is not closed: a single quote belongs behind it.
check K26 "left open
#         ^^^^^^^^^^ error unreadable: This text is not closed: a quotation mark belongs behind it.
`);
  });

  test('a range written backwards is read in silence', () => {
    reads([['take K26.12..1', 'take | K26.1..12']]);
  });

  test('a second text', () => {
    expectProblems(`
check K26 "one" "two"
#               ^^^^^ error contradiction: A second text on this line: put both into one.
`);
  });

  test('numbers and counts begin at 1', () => {
    expectProblems(`
take K26 x0
#        ^^ error unit-slip: \`x0\`: a count begins at 1.
take K26.0..3
#    ^^^^^^^^ error unit-slip: \`K26.0..3\`: numbers begin at 1.
take K26 except K26.0
#               ^^^^^ error unit-slip: \`K26.0\`: numbers begin at 1.
`);
  });

  test('`P.` is the nearest genus before it with that initial', () => {
    reads([['batch K1 Pinus mugo / Picea abies / P. glauca', 'batch | K1 | Pinus mugo / Picea abies / Picea glauca']]);
    expectProblems(`
batch K1 P. parviflora
#        ^^^^^^^^^^^^^ error unreadable: \`P.\` stands for a name spelled out earlier on the line, and none is.
`);
  });

  test('a date, a date and a time, a time', () => {
    expect(readLine('2026-10-09 8:30 # cold')).toMatchObject({
      date: { day: 20735 },
      time: { minutes: 510 },
      problems: [],
    });
    expect(readLine('14:30')).toMatchObject({ time: { minutes: 870 }, problems: [] });
    expectProblems(`
24:00
#^^^^ error bad-date: 24:00 is no time of day: 00:00 to 23:59.
2026-10-09 14.30 check frame
#          ^^^^^ error bad-date: 14.30: a time of day is written 14:30.
`);
  });

  test('words of the notation, which no name may be', () => {
    for (const word of [
      'graft',
      'opened',
      'cut',
      'rootstock',
      'under',
      'needle',
      'may',
      'winter',
      'rest',
      'cause',
      'tape',
    ])
      expect(reservedWords.has(word), word).toBe(true);
    for (const word of ['frame', 'k26', 't14', 'yard', 'fridge']) expect(reservedWords.has(word), word).toBe(false);
  });
});

describe('practice lines', () => {
  test('an open end is for practice lines', () => {
    reads([['practice any cut 30%..', 'practice | any | cut 30..%']]);
    expectProblems(`
graft K26.1 cut 30%..
#               ^^^^^ error missing-value: \`30%..\` leaves an end open; that is for practice lines. After \`cut\` comes how deep: \`cut 40%\` or \`cut 3mm\`.
open K26 ..30%
#        ^^^^^ error missing-value: \`..30%\` leaves an end open; that is for practice lines. After \`open\` comes how far it is now: \`open K26.1..11  20%\`.
`);
  });

  test('`long` and `long-ratio` are one key; a line with `work` has no other rule', () => {
    expectProblems(`
practice any long 30mm.. long-ratio 5..
#                        ^^^^^^^^^^^^^^ error contradiction: \`long\` and \`long-ratio\` on one line: one of them holds.
practice any work look after word wait 7d cut 30..50%
#                                         ^^^^^^^^^^^ error contradiction: A line with \`work\` holds no other rule: give \`cut\` a line of its own.
practice any work look after word
#            ^^^^^^^^^ error missing-value: Behind \`work\` come event and days: \`work look  after word  wait 7..14d\`.
`);
  });

  test('words that went come with the sentence that says it now', () => {
    expectProblems(`
practice any take-after 42d
#            ^^^^^^^^^^ error unknown-word: \`take-after\` is written as a sentence: \`earliest take  after graft  wait 42d\`.
practice any look 10..20d
#            ^^^^ error unknown-word: \`look\` is written as a sentence: \`work look  after word  wait 10..20d\`.
practice any silent-taken 200d..3y
#            ^^^^^^^^^^^^ error unknown-word: \`silent-taken\` is written as a sentence: \`silent 200d..3y  after take\`.
`);
  });

  test('days no such month has', () => {
    reads([
      ['practice any last-frost feb-29', 'practice | any | last-frost 2-29'],
      ['practice any last-frost may-1', 'practice | any | last-frost 5-1'],
    ]);
    expectProblems(`
practice any last-frost feb-30
#                       ^^^^^^ error bad-date: feb-30: no year has such a day.
practice any off jun-31..jul-15
#                ^^^^^^^^^^^^^^ error bad-date: jun-31..jul-15: no year has such a day.
`);
  });

  test('fractions in intervals', () => {
    reads([
      ['practice any cut 1/3..1/2', 'practice | any | cut 33.333333..50%'],
      ['practice any cut ..1/3', 'practice | any | cut ..33.333333%'],
      ['practice any cut 1/3..50%', 'practice | any | cut 33.333333..50%'],
      ['practice any size 3/16..1/4in cut 30%..', 'practice | any | size 4.7625..6.35mm | cut 30..%'],
    ]);
    expectProblems(`
practice any cut 30..1/2
#                ^^^^^^^ error wrong-unit: 30..1/2 what? \`30%..1/2\` or \`30mm..1/2\`.
`);
  });

  test('months and years stay months for adding to a day', () => {
    const fact = readLine('practice any work again after again wait 48..49mo').statement?.facts.find(
      (f) => f.key === 'wait',
    );
    expect(fact?.value).toMatchObject({ measure: 'duration', lowMonths: 48, highMonths: 49 });
    reads([['practice any silent 60d..3y', 'practice | any | silent 60..1095.75d']]);
  });

  test('`none` takes a rule away', () => {
    reads([
      ['practice any cut none', 'practice | any | cut none'],
      ['practice any film none', 'practice | any | film none'],
      ['practice any needs none', 'practice | any | needs none'],
      ['practice any needs frost-free none', 'practice | any | needs frost-free,none'],
      ['practice any work look after word wait none', 'practice | any | work look | after word | wait none'],
      ['practice any earliest take after graft wait none', 'practice | any | earliest take | after graft | wait none'],
    ]);
  });

  test('scopes of one kind side by side would both have to hold', () => {
    reads([
      [
        'practice needle,scale side,side-veneer cut 30..50%',
        'practice | needle,scale | side,side-veneer | cut 30..50%',
      ],
      ['practice Pinus parviflora potted cut 30..50%', 'practice | Pinus parviflora | potted | cut 30..50%'],
    ]);
    expectProblems(`
practice needle, scale cut 30..50%
#                ^^^^^ error contradiction: Both would have to hold, and no graft is both: joined by a comma without a blank they mean “or”.
practice Pinus Abies cut 30..50%
#              ^^^^^ error contradiction: A rule is for one plant: give the second a line of its own.
practice cut 30..50%
#^^^^^^^ error missing-value: After \`practice\` comes for whom it is: \`practice any\`, \`practice side-veneer\`, \`practice K26\`.
`);
  });
});
