import { Lexer } from 'chevrotain';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Problem, Span } from '#grammar/finding.ts';
import { readLine, readLines } from '#grammar/line.ts';
import { makeParser } from '#grammar/parser.ts';
import { allTokens } from '#grammar/tokens.ts';
import { anyLine } from '../support/lines.ts';
import { applied } from '../support/reading.ts';

const inside = (span: Span, outer: Span) => span.start >= outer.start && span.end <= outer.end;

test('no line throws; spans lie inside the line, inside one another, and in order', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      const { date, time, comment, statement, problems } = readLine(text);
      const whole = { start: 0, end: text.length };
      const facts = statement?.facts ?? [];
      const sets = statement?.sets ?? [];
      const spans = [
        date?.span,
        time?.span,
        comment,
        statement?.verbSpan,
        statement?.taxa?.span,
        statement?.remark?.span,
      ];
      const all = [
        ...spans.filter((span) => span !== undefined),
        ...facts.map((fact) => fact.span),
        ...sets.map((set) => set.span),
        ...problems.map((problem) => problem.span),
        ...problems.flatMap((problem) => (problem.mends ?? []).flatMap((mend) => mend.edits.map((edit) => edit.span))),
      ];
      for (const span of all) {
        expect(inside(span, whole)).toBe(true);
        expect(span.end).toBeGreaterThanOrEqual(span.start);
      }
      for (const fact of facts) expect(inside(fact.valueSpan, fact.span)).toBe(true);
      for (const set of sets) {
        expect(text.slice(set.name.span.start, set.name.span.end).normalize('NFC')).toBe(set.name.text);
        if (set.count && inside(set.count.span, set.span))
          expect(set.count.span.start).toBeGreaterThan(set.name.span.end - 1);
      }
      for (const list of [facts, sets])
        expect(list.map(({ span }) => span.start)).toEqual(list.map(({ span }) => span.start).sort((a, b) => a - b));
      // date, time, verb, the rest, comment
      const order = [date?.span, time?.span, statement?.verbSpan, ...facts.map((fact) => fact.span), comment];
      const starts = order.filter((span) => span !== undefined).map((span) => span.start);
      expect(starts).toEqual([...starts].sort((a, b) => a - b));
      // every fact holds a figure, or says that it is lost
      for (const fact of facts)
        if (fact.value.kind === 'amount')
          for (const end of [fact.value.low, fact.value.high])
            if (end !== undefined) expect(Number.isFinite(end)).toBe(true);
    }),
    { numRuns: 4000 },
  );
});

test('lines together are read as each alone', () => {
  fc.assert(
    fc.property(fc.array(anyLine, { maxLength: 120 }), (texts) => {
      expect(readLines(texts)).toEqual(texts.map(readLine));
    }),
    { numRuns: 60 },
  );
});

test('what nobody would write is one sentence, whatever its length', () => {
  for (const text of [
    '\0',
    '\ud800',
    'graft K26.1 \udc00 cut 40%',
    '\u2028',
    'x'.repeat(2000),
    '"'.repeat(1999),
    "'".repeat(2000),
  ])
    expect(() => readLine(text)).not.toThrow();
  expect(readLine(`check K26 ${'y'.repeat(5_000_000)}`)).toMatchObject({
    problems: [{ code: 'unreadable', span: { start: 0, end: 2000 } }],
  });
});

test('a line says nothing that isn’t there: no field is undefined', () => {
  const holes = (value: unknown): boolean =>
    typeof value === 'object' &&
    value !== null &&
    Object.values(value).some((part) => part === undefined || holes(part));
  fc.assert(
    fc.property(anyLine, (text) => {
      expect(holes(readLine(text))).toBe(false);
    }),
    { numRuns: 1000 },
  );
});

test('every mend takes its own problem away, and its title fits a menu', () => {
  let mends = 0;
  fc.assert(
    fc.property(anyLine, (text) => {
      const { problems } = readLine(text);
      for (const problem of problems)
        for (const mend of problem.mends ?? []) {
          expect(mend.title).toMatch(/^[A-Z].{1,39}$/u);
          const alike = ({ code, message }: Problem) => code === problem.code && message === problem.message;
          const left = readLine(applied(text, mend.edits)).problems.filter(alike);
          // gone from its place; or, where the line has several alike, one fewer
          const gone = !left.some(({ span }) => span.start === problem.span.start);
          expect(gone || left.length < problems.filter(alike).length).toBe(true);
          mends++;
        }
    }),
    { numRuns: 3000 },
  );
  expect(mends).toBeGreaterThan(300);
});

test('a safe mend leaves what the line means', () => {
  const meaning = (text: string) =>
    JSON.stringify(readLine(text), (key, value) =>
      /span$|^text$|^problems$|^comment$/i.test(key) ? undefined : value,
    );
  let safe = 0;
  fc.assert(
    fc.property(anyLine, (text) => {
      for (const mend of readLine(text).problems.flatMap((problem) => problem.mends ?? []))
        if (mend.safe) {
          expect(meaning(applied(text, mend.edits))).toBe(meaning(text));
          safe++;
        }
    }),
    { numRuns: 3000 },
  );
  expect(safe).toBeGreaterThan(20);
});

test('messages are one sentence of a grower’s words', () => {
  fc.assert(
    fc.property(anyLine, (text) => {
      for (const { message } of readLine(text).problems) {
        expect(message).toMatch(/^[\p{L}\p{N}`'"“.,;:+−-].*[.?]$/su);
        expect(message).not.toMatch(
          /\b(?:token|invalid|please|syntax|undefined|null|NaN|object Object)\b(?![^`]*`)|!$/,
        );
        // what is quoted from the line is as long as it is
        if (text.length < 40) expect(message.length).toBeLessThanOrEqual(140 + text.length);
      }
    }),
    { numRuns: 3000 },
  );
});

test('lexer and parser are sound by Chevrotain’s own checks', () => {
  const lexer = new Lexer(allTokens, { positionTracking: 'onlyOffset', ensureOptimizations: false });
  expect(lexer.lexerDefinitionErrors).toEqual([]);
  expect(() => makeParser(true)).not.toThrow();
});

test('reading costs in proportion to a line’s length', () => {
  // a nested quantifier in a token would show here as minutes, more than a test is given
  for (const piece of ['1', '1 ', 'K.1,', '1/', '..', "'", 'a-', 'x', '1..', '4mm x ']) {
    const text = piece.repeat(Math.floor(1990 / piece.length));
    expect(readLine(text).text).toBe(text);
  }
});
