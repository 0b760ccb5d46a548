import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Document, openDocument, splitLines } from '#grammar/document.ts';
import { anyLine } from '../support/lines.ts';

const at = (line: number, character: number) => ({ line, character });
const shown = (document: Document) =>
  document.entries.map(({ line, day, minute, problems }) => [
    line.text,
    day,
    minute,
    problems?.map(({ message }) => message),
  ]);

/** Every entry stands where its line is told to be, and ranks grow downward. */
function expectInOrder(document: Document): void {
  document.entries.forEach((entry, i) => {
    expect(document.lineOf(entry)).toBe(i);
    if (i > 0) expect(entry.rank).toBeGreaterThan(document.entryAt(i - 1)?.rank ?? Number.POSITIVE_INFINITY);
  });
}

describe('a file as lines', () => {
  test('line ends of all kinds; a byte order mark is no part of the first line', () => {
    const document = openDocument('a.graft', '\uFEFF2026-10-09\r\ncheck "a"\rcheck "b"\n');
    expect(document.marked).toBe(true);
    expect(document.entries.map(({ line }) => line.text)).toEqual(['2026-10-09', 'check "a"', 'check "b"', '']);
    expect(document.entries.flatMap(({ line }) => line.problems)).toEqual([]);
  });

  test('a file of zeros or of nothing has lines like any other', () => {
    expect(openDocument('a.graft', '\0\0').length).toBe(1);
    expect(openDocument('a.graft', '').length).toBe(1);
  });

  test('an edit reads only the lines it touches; the others stay the same entries', () => {
    const document = openDocument('a.graft', '2026-10-09\ncheck "a"\ncheck "b"\ncheck "c"');
    const before = [...document.entries];
    const { removed, added, redated } = document.edit({ start: at(2, 7), end: at(2, 8) }, 'B');
    expect([removed.map(({ line }) => line.text), added.map(({ line }) => line.text), redated]).toEqual([
      ['check "b"'],
      ['check "B"'],
      [],
    ]);
    expect(document.entries.map((entry, i) => entry === before[i])).toEqual([true, true, false, true]);
  });

  test('Enter at the end of a line adds one and leaves both its neighbours alone', () => {
    const document = openDocument('a.graft', '2026-10-09\ncheck "a"\ncheck "b"');
    const { removed, added } = document.edit({ start: at(1, 9), end: at(1, 9) }, '\n');
    expect([removed.length, added.map(({ line }) => line.text)]).toEqual([0, ['']]);
  });

  test('a changed day line redates the lines under it, down to the next one', () => {
    const document = openDocument(
      'a.graft',
      '2026-10-09\ncheck "a"\n2026-10-12 check "b"\ncheck "c"\n2026-11-01\ncheck "d"',
    );
    const { removed, redated } = document.edit({ start: at(0, 9), end: at(0, 10) }, '8');
    expect(removed).toHaveLength(1);
    expect(
      redated.map(({ before, after }) => [
        before.line === after.line,
        after.line.text,
        (after.day ?? 0) - (before.day ?? 0),
      ]),
    ).toEqual([
      [true, 'check "a"', -1],
      [true, 'check "c"', -1],
    ]);
  });

  test('thousands of lines typed one under the other, or one above the other, keep their order', () => {
    for (const upward of [false, true]) {
      const document = openDocument('a.graft', '2026-10-09\n# end');
      for (let i = 0; i < 5000; i++)
        document.edit({ start: at(1 + (upward ? 0 : i), 0), end: at(1 + (upward ? 0 : i), 0) }, `# ${i}\n`);
      expectInOrder(document);
      expect(document.entryAt(1)?.line.text).toBe(upward ? '# 4999' : '# 0');
    }
  });

  test('a whole book pasted at once', () => {
    const document = openDocument('a.graft', '# start\n# end');
    document.edit(
      { start: at(1, 0), end: at(1, 0) },
      `${Array.from({ length: 150_000 }, (_, i) => `# ${i}`).join('\n')}\n`,
    );
    expect(document.length).toBe(150_002);
    expectInOrder(document);
  });
});

const dayLine = fc.constantFrom(
  '2026-10-09',
  '2026-10-09 14:30',
  '2027-03-01',
  '2025-01-01',
  '15:00',
  '2026-02-30',
  '2026-2-1',
);
const text = fc
  .array(fc.oneof({ weight: 2, arbitrary: anyLine }, dayLine), { maxLength: 12 })
  .map((lines) => lines.join('\n'));
const edits = fc.array(
  fc.record({
    from: fc.nat(14),
    to: fc.nat(3),
    start: fc.nat(30),
    end: fc.nat(30),
    text: fc.oneof(text, fc.constantFrom('', '\n', 'x')),
  }),
  { maxLength: 8 },
);

test('after any edits the document is the one that is opened from the resulting text', () => {
  fc.assert(
    fc.property(text, edits, (before, changes) => {
      const document = openDocument('a.graft', before);
      let lines = splitLines(before);
      for (const { from, to, start, end, text: by } of changes) {
        const range = { start: at(from, start), end: at(from + to, from + to === from ? Math.max(start, end) : end) };
        const live = new Set(document.entries);
        const { removed, added, redated } = document.edit(range, by);
        for (const entry of removed) expect(live.delete(entry)).toBe(true);
        for (const { before: old } of redated) expect(live.delete(old)).toBe(true);
        for (const entry of [...added, ...redated.map(({ after }) => after)]) live.add(entry);
        expect(new Set(document.entries)).toEqual(live);
        const [first, last] = [Math.min(from, lines.length), Math.min(from + to, lines.length)].map((line) =>
          Math.min(line, lines.length - 1),
        );
        const [head, tail] = [lines[first as number] ?? '', lines[last as number] ?? ''];
        const past = (line: number) => line > lines.length - 1;
        const left = head.slice(0, past(from) ? head.length : start);
        const right = tail.slice(past(from + to) ? tail.length : range.end.character);
        lines = [...lines.slice(0, first), ...splitLines(left + by + right), ...lines.slice((last as number) + 1)];
      }
      expect(document.text()).toBe(lines.join('\n'));
      expect(shown(document)).toEqual(shown(openDocument('a.graft', lines.join('\n'))));
      expectInOrder(document);
    }),
    { numRuns: 300 },
  );
});
