import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { anyLine } from '../support/lines.ts';

test('no line throws; spans lie inside the line and in order', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      const line = readLine(text);
      const spans = [
        line.date?.span,
        line.comment,
        line.statement?.verbSpan,
        ...(line.statement?.facts ?? []).flatMap((fact) => [fact.span, fact.valueSpan]),
        ...(line.statement?.sets ?? []).map((set) => set.span),
        ...line.problems.map((problem) => problem.span),
      ];
      for (const span of spans) {
        if (!span) continue;
        expect(span.start).toBeGreaterThanOrEqual(0);
        expect(span.end).toBeGreaterThanOrEqual(span.start);
        expect(span.end).toBeLessThanOrEqual(text.length);
      }
      for (const fact of line.statement?.facts ?? [])
        if (fact.value.kind === 'amount')
          for (const end of [fact.value.low, fact.value.high])
            if (end !== undefined) expect(Number.isFinite(end)).toBe(true);
    }),
    { numRuns: 3000 },
  );
});

test('every mend of a line takes its own problem away', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      for (const problem of readLine(text).problems)
        for (const mend of problem.mends ?? []) {
          let mended = text;
          for (const edit of [...mend.edits].sort((a, b) => b.span.start - a.span.start))
            mended = mended.slice(0, edit.span.start) + edit.text + mended.slice(edit.span.end);
          const same = readLine(mended).problems.filter(
            (other) =>
              other.code === problem.code &&
              other.span.start === problem.span.start &&
              other.message === problem.message,
          );
          expect(same).toEqual([]);
        }
    }),
    { numRuns: 1500 },
  );
});

test('reading costs in proportion to a line’s length', () => {
  // a nested quantifier in a token would show here as minutes, not as a factor
  for (const piece of ['1', '1 ', 'K.1,', '1/', '..', "'", 'a-', 'x', '1..', '4mm x ']) {
    const text = piece.repeat(Math.floor(1990 / piece.length));
    const started = performance.now();
    readLine(text);
    expect(performance.now() - started, piece).toBeLessThan(500);
  }
});
