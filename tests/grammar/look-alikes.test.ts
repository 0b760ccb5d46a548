import { expect, test } from 'vitest';
import { expectProblems, said } from '../support/reading.ts';

// Spellings that look alike: what each is read as, or what is said.

const reads = (rows: readonly (readonly [string, string])[]) => {
  for (const [text, meaning] of rows) expect(said(text), text).toBe(meaning);
};

test('inches, minima and relative humidity', () => {
  reads([
    ['graft K26.1 out 1.5in', 'graft | K26.1 | out 38.1mm'],
    ['graft K26.1 whorls 2 in frame', 'graft | K26.1 | whorls 2 | in frame'],
    ['reading frame rh 95% min 2C', 'reading | frame | rh 95% | min 2C'],
    ['graft K26.1 cut 1/3 in frame', 'graft | K26.1 | cut 33.333333% | in frame'],
    ['graft K26.1 cut 1/2  in tent-2', 'graft | K26.1 | cut 50% | in tent-2'],
    ['graft K26.1 stock 3/16 in in frame', 'graft | K26.1 | stock 4.7625mm | in frame'],
    ['graft K26.1 long 1 1/2 in in frame', 'graft | K26.1 | long 38.1mm | in frame'],
    ['graft K26.1 in frame stock 1/2 in', 'graft | K26.1 | in frame | stock 12.7mm'],
    ['graft K26.1 short 3/16in long 1 1/4in', 'graft | K26.1 | short 4.7625mm | long 31.75mm'],
  ]);
  expectProblems(`
reading frame rh 95 min 2C
#                ^^ error wrong-unit: 95 what? \`95%\`.
graft K26.1 out 1.5 in frame
#               ^^^ error wrong-unit: 1.5 what? \`1.5mm\` or \`1.5cm\`.
graft K26.1 stock 3/8"
#                 ^^^^ error wrong-unit: \`3/8"\`: inches are written \`3/8in\`.
`);
});

test('counts and sizes', () => {
  reads([
    ['collect L7 x60', 'collect | L7 | count 60'],
    ['collect L7 Pinus mugo, x60 ripened', 'collect | L7 | Pinus mugo | count 60 | wood ripened'],
    ['graft K26.1 4 x 90mm', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1 scion 4 x 90mm', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1 scion 4mmx90mm', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1 scion 4mm x 90', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1 scion 4..5mm x 80..110mm', 'graft | K26.1 | scion 4..5mm x 80..110mm'],
    ['collect L1 scion 90mm x60', 'collect | L1 | scion ? x 90mm | count 60'],
  ]);
  expectProblems(`
fail K26 x 60
#        ^^^^ error unreadable: A count is written \`x60\`.
fail K26 60x
#        ^^^ error unreadable: A count is written \`x60\`.
collect L1 scion 90mm x 60
#                ^^^^^^^^^ error unit-slip: \`scion\` 90mm x 60: 1 to 25 mm thick is plausible; is a figure or a unit slipped?
graft K26.1 scion 4 x 90
#                 ^^^^^^ error wrong-unit: 4 x 90 what? \`4 x 90mm\` or \`4 x 90cm\`.
`);
});

test('shares, lengths and pairs with a slash', () => {
  reads([
    ['headback K26 1/3', 'headback | K26 | share 33.333333%'],
    ['graft K26.1 cut 1/3', 'graft | K26.1 | cut 33.333333%'],
    ["batch M1 Malus domestica 'Gala' / M. 'M9'", "batch | M1 | Malus domestica 'Gala' / Malus 'M9'"],
    ['batch M1 Malus domestica/M. baccata', 'batch | M1 | Malus domestica / Malus baccata'],
  ]);
  expectProblems(`
graft K26.1 cut 40
#               ^^ error wrong-unit: 40 what? \`40%\` or \`40mm\`.
open K26 20
#        ^^ error wrong-unit: 20 what? \`20%\`.
`);
});

test('sets', () => {
  reads([
    ['take K26.1..12,14', 'take | K26.1..12,14'],
    ['take K26.1-12, 14', 'take | K26.1..12,14'],
    ['take K26.1–12', 'take | K26.1..12'],
    ['take K26.12..1', 'take | K26.1..12'],
    ['take K26.1,5', 'take | K26.1,5'],
    ['take K26.1..8,12 x7', 'take | K26.1..8,12 x7'],
    ['fail K26.1, 4 x2 dried', 'fail | K26.1,4 x2 | cause dried'],
    ['graft K26.1, 4 x90mm', 'graft | K26.1 | scion 4mm x 90mm'],
    ['graft K26.1,12 x4', 'graft | K26.1,12 x4'],
    ['take k26.3', 'take | k26.3'],
    ['take B26 K26', 'take | B26 | K26'],
    ['take B26,K26', 'take | B26 | K26'],
  ]);
  expectProblems(`
take 26.1
#    ^^^^ error unreadable: Names start with a letter: \`B26.1\`.
open 2601 20%
#    ^^^^ error unreadable: Names start with a letter: \`B2601\`.
tree 14  Pinus mugo
#    ^^ error unreadable: Names start with a letter: \`B14\`.
graft K26.1  in 2nd-frame
#               ^^^^^^^^^ error unreadable: Names start with a letter: \`B2nd-frame\`.
graft K26 1-10, cut 40%
#         ^^^^ error unreadable: Numbers stand right behind the name and a point: \`K26.1..10\`.
open K27 1..10 20%
#        ^^^^^ error unreadable: Numbers stand right behind the name and a point: \`K27.1..10\`.
open K27 1..10
#        ^^^^^ error unreadable: Numbers stand right behind the name and a point: \`K27.1..10\`; a share has its sign: \`1..10%\`.
fail J23 O23 rest dried
#    ^^^^^^^^^^^^ error unreadable: \`rest\` is that of \`O23\` alone. Of each batch it is \`J23 rest O23 rest\`; all of \`J23\` stands on a line of its own.
check frame K26 rest plump
fail K26 5 dried
#        ^ error unreadable: Graft number 5 is \`K26.5\`; so many of them is \`K26 x5\`.
take K26..K30
#    ^^^^^^^^ error unreadable: \`K26..K30\`: sets are named one by one, \`K26 K30\`; only numbers run on, \`K26.1..12\`.
`);
});

test('intervals, dates and decimal commas', () => {
  reads([
    ['graft K26.1 cut 30..50%', 'graft | K26.1 | cut 30..50%'],
    ['graft K26.1 cut 30-50%', 'graft | K26.1 | cut 30..50%'],
    ['reading yard min -4..-1C', 'reading | yard | min -4..-1C'],
    ['graft K26.1 cut 1,5mm', 'graft | K26.1 | cut 1.5mm'],
  ]);
  expectProblems(`
2026-10-9
#^^^^^^^^ warning bad-date: 2026-10-9 is read as 2026-10-09: months and days have two digits.
9.10.2026
#^^^^^^^^ error bad-date: 9.10.2026 is read two ways: 2026-10-09 or 2026-09-10.
10/9/26 check frame
#^^^^^^ error bad-date: 10/9/26 is read two ways: 2026-09-10 or 2026-10-09.
13.10.2026
#^^^^^^^^^ error bad-date: 13.10.2026 is written with the year first: 2026-10-13.
graft K26.1 cut 1,5mm
#               ^^^^^ warning decimal-comma: 1,5mm is read as 1.5mm: the notation writes a decimal point.
graft K26.1 stock 1,5
#                 ^^^ error wrong-unit: 1,5 what? \`1.5mm\` or \`1.5cm\`.
`);
});

test('one word, one key', () => {
  reads([
    ['graft K26.1 side', 'graft | K26.1 | method side'],
    ['graft K26.1 bark', 'graft | K26.1 | method bark'],
    ['graft K26.1 cleft under', 'graft | K26.1 | method cleft | side under'],
    ['graft K26.1 thread top old', 'graft | K26.1 | method thread | side top | wood old'],
    ['collect L1 soft', 'collect | L1 | wood soft'],
    ['tree T1 Acer palmatum in yard', 'tree | T1 | Acer palmatum | in yard'],
  ]);
});

test('people are no names of the log', () => {
  reads([
    ["graft K1.1 by O'Brien", "graft | K1.1 | by O'Brien"],
    ['graft K1.1 by Björn', 'graft | K1.1 | by Björn'],
    ['graft K1.1 by mk,jo', 'graft | K1.1 | by mk,jo'],
  ]);
});

test('places with a blank, plants in double quotes, sets before verbs', () => {
  reads([
    ['graft K26.1 in cold frame', 'graft | K26.1 | in cold | frame?'],
    ["tree T1 Malus 'Growers’ Pride'", "tree | T1 | Malus 'Growers’ Pride'"],
    ["tree M7 Abies koreana 'Horstmann's Silberlocke'", "tree | M7 | Abies koreana 'Horstmann's Silberlocke'"],
  ]);
  expectProblems(`
batch K9 "Hoopsii" / Picea abies
#        ^^^^^^^^^ error missing-value: A plant’s cultivar stands in single quotes: \`'Hoopsii'\`.
batch K9 Picea pungens "Hoopsii" / Picea abies
#                      ^^^^^^^^^ error missing-value: A plant’s cultivar stands in single quotes: \`'Hoopsii'\`.
tree T1 Picea pungens "Hoopsii"
#                     ^^^^^^^^^ error missing-value: A plant’s cultivar stands in single quotes: \`'Hoopsii'\`.
tree T1 Malus 'Growers' Pride' in yard
#             ^^^^^^^^^^^^^^^^ error unreadable: Inside a name an apostrophe that ends a word is written ’: \`'Growers’ Pride'\`.
K26.1 taken
#^^^^ error unreadable: The verb comes first: \`take K26.1\`.
frame opened 10%
#^^^^ error unreadable: The verb comes first: \`open frame\`.
`);
});

test('an open interval ends where a comma follows, too', () => {
  reads([
    ['practice any scion 20mm.., source "a"', 'practice | any | scion 20..mm | source "a"'],
    ['practice any stored ..42d, source "a"', 'practice | any | stored ..42d | source "a"'],
  ]);
});

test('parts of the year', () => {
  reads([
    ['practice any off jul..mar', 'practice | any | off 7-1..3-31'],
    ['practice any off jan,sep..oct,summer', 'practice | any | off 1-1..1-31,9-1..10-31,summer'],
    ['practice any needs humid within mar-01..may-15', 'practice | any | needs humid | within 3-1..5-15'],
  ]);
  expectProblems(`
practice any off oct-mar
#                ^^^^^^^ error unknown-word: \`oct-mar\` is written \`oct..mar\`: a span with two dots, months in small letters.
practice any off 03-01..05-15
#                ^^^^^^^^^^^^ error unreadable: \`03-01..05-15\`: days of the year are \`mar-01..may-15\`, months \`jul..mar\`.
practice any off 1 Mar..15 May
#                ^^^^^^^^^^^^^ error unreadable: \`1 Mar..15 May\`: days of the year are \`mar-01..may-15\`, months \`jul..mar\`.
practice any off Jul..Mar
#                ^^^^^^^^ error unreadable: \`Jul..Mar\` is written \`jul..mar\`: a span with two dots, months in small letters.
`);
});

test('a number with letters right behind', () => {
  expectProblems(`
graft K26.1 out 5m
#               ^^ error wrong-unit: \`5m\` doesn’t fit \`out\`: \`5mm\` or \`5cm\`.
feed K26 2oz
#        ^^^ error wrong-unit: \`2oz\`: no unit of the notation. Write it as a text: \`"2oz"\`.
`);
});

test('a number behind `#` is a remark: the line doesn’t speak of the whole batch instead', () => {
  expectProblems(`
fail K26 #5
#        ^^ error unreadable: Behind \`#\` stands a remark: for these grafts write \`K26.5\`.
take K26 #3-7
#        ^^^^ error unreadable: Behind \`#\` stands a remark: for these grafts write \`K26.3..7\`.
`);
  for (const text of [
    'fail K26 x2 #5',
    'fail K26.1 #5',
    'fail K26 # 5 of them were dry',
    'open K26 20% #5',
    'check K26 # 3',
  ])
    expectProblems(`\n${text}\n`);
});
