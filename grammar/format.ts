import type { LineEdit } from './finding.ts';
import { blankEdits, hasError, laidOut, targetWidth } from './layout.ts';
import { readLine } from './line.ts';
import { withEdits } from './line-edits.ts';
import type { Line } from './statement.ts';

/** A change of one line: its new text. Lines that stay as they are give none. */
export interface LineFormat {
  readonly line: number;
  readonly text: string;
}

/** A line among its neighbours: an entry of a document is one. */
interface Placed {
  readonly line: Line;
}

/** How a line changes: by edits where only blanks do, else its new text. */
export type Laid = readonly LineEdit[] | string;
type Put = (line: number, change: Laid) => void;

/** A target wider than this doesn't push the lines around it. */
const widestTarget = 28;
/** So many lines are laid out at once. */
const sliceLines = 200;

/**
 * Layout of a log: verbs in one column, targets in columns among neighbours, two blanks between facts, ranges with `..`,
 * units attached. Words, order and comments stay; a line that could not be read whole is left alone. Only the lines
 * asked for are taken apart; of their neighbours no more than what they act on is looked at. `put` gets what changes, line
 * by line. Yields between many lines.
 */
export function* layingOut(
  lines: readonly Placed[],
  put: Put,
  from = 0,
  to = lines.length - 1,
): Generator<undefined, void> {
  const last = Math.min(to, lines.length - 1);
  for (let at = Math.max(0, from); at <= last; ) {
    const [start, end] = runAt(lines, at);
    let wide = 0;
    for (let i = start; i < end; i += sliceLines) {
      wide = Math.max(wide, widest(lines, i, Math.min(end, i + sliceLines)));
      yield;
    }
    const stop = Math.min(last + 1, Math.max(at + 1, end));
    for (; at < stop; at = Math.min(stop, at + sliceLines)) {
      layOut(lines, at, Math.min(stop, at + sliceLines), wide, put);
      yield;
    }
  }
}

function widest(lines: readonly Placed[], start: number, end: number): number {
  let wide = 0;
  for (let at = start; at < end; at++) {
    const width = targetWidth((lines[at] as Placed).line);
    if (width <= widestTarget) wide = Math.max(wide, width);
  }
  return wide;
}

function layOut(lines: readonly Placed[], start: number, end: number, wide: number, put: Put): void {
  for (let at = start; at < end; at++) {
    const change = laid((lines[at] as Placed).line, wide);
    if (change !== undefined) put(at, change);
  }
}

function laid(line: Line, wide: number): Laid | undefined {
  const { statement, text } = line;
  if (hasError(line)) return undefined;
  const edits = statement && blankEdits(line, statement, wide);
  if (edits) return edits.length > 0 ? edits : undefined;
  const anew = laidOut(line, wide);
  return anew === text ? undefined : anew;
}

/** The same at once, as texts. */
export function formatLines(lines: readonly Placed[], from?: number, to?: number): LineFormat[] {
  const changes: LineFormat[] = [];
  const put: Put = (line, change) => {
    const text = typeof change === 'string' ? change : withEdits((lines[line] as Placed).line.text, change);
    changes.push({ line, text });
  };
  const laying = layingOut(lines, put, from, to);
  while (!laying.next().done);
  return changes;
}

/** The whole text laid out; line ends stay what they were, line by line. */
export function formatText(text: string): string {
  const pieces = text.split(/(\r\n|\r|\n)/);
  const lines = pieces.filter((_, i) => i % 2 === 0).map((piece) => ({ line: readLine(piece) }));
  for (const { line, text: tidy } of formatLines(lines)) {
    // a line emptied between CR and LF would make one line end of two
    const fused = tidy === '' && pieces[line * 2 - 1] === '\r' && pieces[line * 2 + 1] === '\n';
    if (!fused) pieces[line * 2] = tidy;
  }
  return pieces.join('');
}

/** Lines with the same verb, one below the other, share a column for what they act on. Where none begins it is empty. */
function runAt(lines: readonly Placed[], at: number): [start: number, end: number] {
  const verb = verbOf(lines[at]?.line);
  let [start, end] = [at, at];
  if (verb === undefined) return [start, end];
  while (beginsWith(lines[end]?.line, verb)) end++;
  while (beginsWith(lines[start - 1]?.line, verb)) start--;
  return [start, end];
}

/** The verb of a line that can be laid out, as it is written. */
function verbOf(line: Line | undefined): string | undefined {
  if (!line?.statement || hasError(line)) return undefined;
  return line.text.slice(line.statement.verbSpan.start, line.statement.verbSpan.end);
}

function beginsWith(line: Line | undefined, verb: string): boolean {
  if (!line?.statement || hasError(line)) return false;
  const { start, end } = line.statement.verbSpan;
  return end - start === verb.length && line.text.startsWith(verb, start);
}
