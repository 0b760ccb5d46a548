import fc from 'fast-check';
import { expect, test } from 'vitest';
import { formatLines, formatText } from '#grammar/format.ts';
import { readLine } from '#grammar/line.ts';
import { anyLine, anyLog } from '../support/lines.ts';

test('verbs and targets stand in columns, facts two blanks apart', () => {
  expect(
    formatText(`site Drumlin-Lane lat 47.90   lon 8.10
2026-10-09
graft K26.1-11 cut 40 %, scion 4mmx90mm, whorls 2 by mk, jo   # the first tray
graft   K26.12  cut 50..30% under

# a remark of its own
  # set in
open K26.8..1, 10 20%
take  B26 K26   except K26.13,14`),
  ).toBe(`site     Drumlin-Lane  lat 47.90  lon 8.10
2026-10-09
graft    K26.1..11  cut 40%  scion 4mm x 90mm  whorls 2  by mk,jo  # the first tray
graft    K26.12     cut 30..50%  under

# a remark of its own
  # set in
open     K26.1..8,10  20%
take     B26  K26 except K26.13,14`);
});

test('a verb of eight letters keeps the column with one blank', () => {
  const log = `2028-03-01  untie    B26  K26
2028-03-01  headback B26  K26  1/3
practice Acer palmatum  scion 40mm..
accept   cut-deep  K26  "thin bark"`;
  expect(formatText(log.replaceAll(/ +/g, ' '))).toBe(log);
});

test('a line that can’t be read whole, line ends and a byte order mark stay', () => {
  expect(formatText('\uFEFFopen   K26 20\r\ncheck  frame\rtake  K26\n')).toBe(
    '\uFEFFopen   K26 20\r\ncheck    frame\rtake     K26\n',
  );
});

test('commas between facts go, those of a list stay', () => {
  expect(
    formatText(`graft K26.1, cut 40%,whorls 2; by mk, jo, under
take K26 except K26.3, K26.5,B26
practice needle,scale, potted, needs frost-free, shade, off summer, fall, within mar-1..may-15
accept open-soon, open-wide K26, "why"
batch B1 Pinus parviflora/P. thunbergii,tie rubber, wax`),
  ).toBe(`graft    K26.1  cut 40%  whorls 2  by mk,jo  under
take     K26 except K26.3,K26.5  B26
practice needle,scale  potted  needs frost-free,shade  off summer,fall  within mar-01..may-15
accept   open-soon,open-wide  K26  "why"
batch    B1  Pinus parviflora / P. thunbergii  tie rubber  wax`);
});

test('a day of the year gets two figures; a name that looks like one stays what it is', () => {
  expect(formatText('move K26 to bay-1 by mkb-2\npractice any last-frost mar-1\npractice any off oct-1..nov-5')).toBe(
    'move     K26  to bay-1  by mkb-2\npractice any  last-frost mar-01\npractice any  off oct-01..nov-05',
  );
});

test('a genus and a batch in lower case don’t become one plant', () => {
  expect(formatText('practice Abies,koreana off autumn')).toBe('practice Abies,koreana  off autumn');
  expect(formatText('practice Abies off autumn, koreana')).toBe('practice Abies  off autumn  koreana');
});

test('only the lines asked for', () => {
  const lines = ['take K26', 'take   B26', 'take S27'].map((text) => ({ line: readLine(text) }));
  expect(formatLines(lines, 1, 1)).toEqual([{ line: 1, text: 'take     B26' }]);
});

test('ten thousand lines of one block', () => {
  const lines = Array.from({ length: 10_000 }, (_, i) => ({ line: readLine(`open K26.${i + 1}, 20 %`) }));
  expect(formatLines(lines)).toHaveLength(10_000);
});

const plain = (text: string) => {
  const line = readLine(text);
  return JSON.stringify(
    {
      date: line.date?.day,
      time: line.time?.minutes,
      lost: line.dateLost,
      statement: line.statement,
      comment: line.comment && text.slice(line.comment.start).trimEnd(),
    },
    (key, value) => (/span$/i.test(key) ? undefined : value),
  );
};

test('meaning and comments stay, and twice is once', () => {
  fc.assert(
    fc.property(anyLog, (text) => {
      const once = formatText(text);
      expect(formatText(once)).toBe(once);
      const before = text.split(/\r\n|\r|\n/);
      const after = once.split(/\r\n|\r|\n/);
      expect(after.length).toBe(before.length);
      for (const [i, line] of before.entries()) expect(plain(after[i] as string)).toBe(plain(line));
    }),
    { numRuns: 400 },
  );
});

test('any single line', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      if (/[\r\n]/.test(text)) return;
      expect(plain(formatText(text))).toBe(plain(text));
    }),
    { numRuns: 1000 },
  );
});
