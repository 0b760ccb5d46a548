import type { SelectionRange } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import type { Document, Position, Range } from '#grammar/document.ts';
import type { Span } from '#grammar/finding.ts';
import type { Line } from '#grammar/statement.ts';
import { type FileView, inside } from './feature.ts';
import { namesIn, numbersEnd } from './name-at.ts';

/** From the figure outward: value, fact, all facts, what was done, the line, its day, the file. */
export function selectionRange({ document }: FileView, positions: readonly Position[]): SelectionRange[] {
  return positions.map((position) => rangeAt(document, position));
}

function rangeAt(document: Document, position: Position): SelectionRange {
  // a position beyond the end means the end
  const line = Math.min(position.line, document.length - 1);
  const entry = document.entryAt(line);
  const spans = entry
    ? growing(spansOf(entry.line), Math.min(position.character, entry.line.text.length))
    : [{ start: 0, end: 0 }];
  const stretches = [dayAround(document, line), [0, document.length - 1] as const];
  const steps = [
    ...spans.map(({ start, end }) => ({ start: { line, character: start }, end: { line, character: end } })),
    ...stretches.flatMap((stretch) => (stretch ? [linesRange(document, ...stretch)] : [])),
  ];
  const ranges = steps.filter((range, i) => i === 0 || !same(range, steps[i - 1]));
  const outermost: SelectionRange = { range: ranges.at(-1) ?? { start: position, end: position } };
  return ranges.slice(0, -1).reduceRight<SelectionRange>((parent, range) => ({ range, parent }), outermost);
}

const linesRange = (document: Document, from: number, to: number): Range => ({
  start: { line: from, character: 0 },
  end: { line: to, character: document.entryAt(to)?.line.text.length ?? 0 },
});

const same = (a: Range, b: Range | undefined): boolean =>
  a.start.line === b?.start.line &&
  a.start.character === b.start.character &&
  a.end.line === b.end.line &&
  a.end.character === b.end.character;

/** Those around a position, each larger than the one before. */
function growing(spans: readonly Span[], character: number): Span[] {
  const around = spans
    .filter((span) => inside(span, character))
    .sort((a, b) => a.end - a.start - (b.end - b.start) || a.start - b.start);
  const chain: Span[] = [];
  for (const span of around) {
    const last = chain.at(-1);
    if (!last || (span.start <= last.start && span.end >= last.end && span.end - span.start > last.end - last.start))
      chain.push(span);
  }
  return chain;
}

function spansOf({ text, date, time, statement, comment }: Line): Span[] {
  const end = text.length;
  const trimmed = { start: end - text.trimStart().length, end: text.trimEnd().length };
  const spans: Span[] = [{ start: 0, end }, trimmed];
  if (date) spans.push(date.span);
  if (time) spans.push(time.span);
  if (comment) {
    spans.push(comment, { start: trimmed.start, end: text.slice(0, comment.start).trimEnd().length });
    const words = text.slice(comment.start + 1);
    spans.push({ start: end - words.trimStart().length, end: trimmed.end });
  }
  if (!statement) return spans;
  const { verbSpan, facts, taxa, remark } = statement;
  spans.push(verbSpan, { start: verbSpan.start, end: text.slice(0, comment?.start).trimEnd().length });
  for (const place of namesIn(statement)) {
    const { name, span, set } = place;
    const numbers = numbersEnd(text, set ?? place);
    if (numbers > name.span.end)
      spans.push({ start: name.span.end + 1, end: numbers }, { start: name.span.start, end: numbers });
    spans.push(name.span, span);
    if (set?.count) spans.push(set.count.span);
  }
  if (taxa) {
    spans.push(taxa.span);
    for (const taxon of [taxa.scion, taxa.interstem, taxa.stock]) if (taxon) spans.push(taxon.span);
  }
  for (const { span, valueSpan } of facts) spans.push(valueSpan, span);
  const [first, last] = [facts[0], facts.at(-1)];
  if (first && last) spans.push({ start: first.span.start, end: last.span.end });
  if (remark) spans.push(remark.span, { start: remark.span.start + 1, end: remark.span.end - 1 });
  return spans;
}

/** The day line above and the last line under it that says something. */
function dayAround({ entries }: Document, line: number): readonly [number, number] | undefined {
  const begins = (at: number) => {
    const entry = entries[at];
    return entry !== undefined && beginsDay(entry.line);
  };
  let from = line;
  while (from >= 0 && !begins(from)) from--;
  if (from < 0) return undefined;
  let to = line;
  for (let at = line + 1; at < entries.length && !begins(at); at++) if (entries[at]?.line.statement) to = at;
  return [from, to];
}
