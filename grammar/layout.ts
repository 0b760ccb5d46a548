import type { LineEdit } from './finding.ts';
import { smallestEdit } from './line-edits.ts';
import type { Line, Statement } from './statement.ts';
import { placedIn, stretchOf, targetOf } from './stretches.ts';
import { tidy } from './tidy.ts';
import { isTidy } from './tidy-already.ts';

/**
 * Where what is acted on begins, in the whole log: two blanks behind `collect` and `uncover`, one behind `headback` and
 * `practice`, so that no line moves for its neighbour.
 */
const verbColumn = 9;

export const hasError = ({ problems }: Line): boolean =>
  problems.length > 0 && problems.some(({ severity }) => severity === 'error');

/** The width of the first thing a line acts on, tidy; 0 where something else comes first. */
export function targetWidth({ statement, text }: Line): number {
  const target = statement && targetOf(statement);
  if (!target) return 0;
  const { start, end } = target.span;
  return isTidy(text, start, end) ? end - start : tidy(text, target).length;
}

/**
 * What lays a line out whose words stay as they are: blanks between them, too many or too few. `undefined` where more
 * changes, or may. Beside a neighbour's wider target its own has room.
 */
export function blankEdits(line: Line, statement: Statement, wide: number): LineEdit[] | undefined {
  const { text, date, time, comment } = line;
  const edits: LineEdit[] = [];
  let at = 0;
  if (date) {
    if (!areBlanks(text, at, date.span.start, 0, edits)) return undefined;
    at = date.span.end;
  }
  if (time) {
    if (!areBlanks(text, at, time.span.start, date ? 1 : 0, edits)) return undefined;
    at = time.span.end;
  }
  const { start, end } = statement.verbSpan;
  if (!areBlanks(text, at, start, at > 0 ? 2 : 0, edits)) return undefined;
  at = end;
  let blanks = Math.max(1, verbColumn - (end - start));
  const target = targetOf(statement);
  for (const piece of placedIn(statement)) {
    const { span } = piece;
    if (!isTidy(text, span.start, span.end) && tidy(text, stretchOf(piece)) !== text.slice(span.start, span.end))
      return undefined;
    if (span.end === span.start || !areBlanks(text, at, span.start, blanks, edits)) return undefined;
    at = span.end;
    blanks = piece === target ? Math.max(0, wide - (at - span.start)) + 2 : 2;
  }
  if (comment) {
    if (!areBlanks(text, at, comment.start, 2, edits)) return undefined;
    at = text.trimEnd().length;
  }
  return areBlanks(text, at, text.length, 0, edits) ? edits : undefined;
}

/** Whether blanks alone stand there; if there aren't so many, with the edit that makes them so many. */
function areBlanks(text: string, start: number, end: number, blanks: number, edits: LineEdit[]): boolean {
  // words that touch may become two
  if (end < start || (end === start && blanks > 0)) return false;
  let spaces = true;
  for (let at = start; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code === 32) continue;
    if (code !== 9 && code !== 160) return false;
    spaces = false;
  }
  const missing = blanks - (end - start);
  if (!spaces) {
    const edit = smallestEdit(text.slice(start, end), ' '.repeat(blanks), start);
    if (edit) edits.push(edit);
  } else if (missing > 0) edits.push({ span: { start: end, end }, text: ' '.repeat(missing) });
  else if (missing < 0) edits.push({ span: { start: end + missing, end }, text: '' });
  return true;
}

/** The whole line laid out anew. */
export function laidOut(line: Line, wide: number): string {
  const { statement, text, comment } = line;
  if (!statement) return plainLine(line);
  const pieces = placedIn(statement).map((piece) => tidy(text, stretchOf(piece)));
  const target = targetOf(statement) ? (pieces.shift() as string) : '';
  const behind = pieces.join('  ');
  const acted = joined(behind && target ? target.padEnd(wide) : target, behind);
  const verb = text.slice(statement.verbSpan.start, statement.verbSpan.end);
  return joined(
    beforeVerb(line),
    acted ? `${verb} `.padEnd(verbColumn) + acted : verb,
    comment ? text.slice(comment.start).trimEnd() : '',
  );
}

/** A day line, a comment, an empty line. */
function plainLine(line: Line): string {
  const comment = line.comment ? line.text.slice(line.comment.start).trimEnd() : '';
  const day = beforeVerb(line);
  if (day) return comment ? `${day}  ${comment}` : day;
  // a comment keeps its indent: growers set things off with it
  return comment && line.comment ? line.text.slice(0, line.comment.start).replaceAll('\t', '  ') + comment : '';
}

function beforeVerb({ text, date, time }: Line): string {
  const day = date ? text.slice(date.span.start, date.span.end) : '';
  const clock = time ? text.slice(time.span.start, time.span.end) : '';
  return [day, clock].filter(Boolean).join(' ');
}

const joined = (...parts: readonly string[]) => parts.filter((part) => part !== '').join('  ');
