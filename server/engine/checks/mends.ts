import type { Code } from '#grammar/codes.ts';
import type { Span } from '#grammar/finding.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import { latitudeOf } from '../cover.ts';
import type { Log } from '../log.ts';
import type { Batch, Cover, Entry, LogMend } from '../model.ts';
import { shippedFile } from '../practice.ts';
import { copyOf } from '../practice-closer.ts';
import type { Mended } from './case.ts';

/** "I know": the ways to accept a finding, on its line, for its batch, and in the whole log. */
export function acceptMends(
  code: Code,
  entry: Entry,
  batch: Pick<Batch, 'name' | 'entry'> | undefined,
  log: Log,
): Mended[] {
  const mends: Mended[] = [];
  const statement = entry.line.statement;
  if (statement && verbRow(statement.verb).kind === 'work')
    mends.push({ title: 'I know: accept on this line', edits: [append(entry, `accept ${code}`)] });
  if (batch?.entry)
    mends.push({
      title: `I know: accept for ${batch.name}`.slice(0, 40),
      edits: [{ entry: batch.entry, where: 'below', text: `accept   ${code}  ${batch.name}` }],
    });
  const head = log.site ?? log.firstLine(entry.file);
  if (head)
    mends.push({
      title: 'I know: accept in this log',
      edits: [{ entry: head, where: log.site ? 'below' : 'above', text: `accept   ${code}` }],
    });
  return mends;
}

/** The shipped rule as a line of the log, for the grower to change its figure; own rules are there already. */
export function copyMend(practice: Entry, log: Log): Mended[] {
  const head = log.site ?? log.firstLine(log.fileNames[0] ?? '');
  if (practice.file !== shippedFile || !head) return [];
  return [
    {
      title: 'Copy its practice line into this log',
      edits: [{ entry: head, where: log.site ? 'below' : 'above', text: copyOf(practice, latitudeOf(undefined, log)) }],
    },
  ];
}

/** A fact at the end of a line, before its remark. */
export function addFact(entry: Entry, fact: string, title: string): LogMend[] {
  return [{ title, edits: [append(entry, fact)] }];
}

function append(entry: Entry, text: string): { entry: Entry; where: 'in'; span: Span; text: string } {
  const { line } = entry;
  const end = line.text.slice(0, line.comment?.start ?? line.text.length).trimEnd().length;
  return { entry, where: 'in', span: { start: end, end }, text: `  ${text}` };
}

/** The flag added to the line that declares a place; where none does, to the graft's own line. */
export function addCover(flag: Cover, place: string | undefined, entry: Entry, log: Log): LogMend[] {
  const declared = place === undefined ? undefined : log.names.declared(place);
  if (declared?.kind === 'place')
    return addFact(declared.entry, flag, `Add \`${flag}\` to ${declared.name}`.slice(0, 40));
  return entry.line.statement?.verb === 'graft' ? addFact(entry, flag, `Add \`${flag}\``) : [];
}

/** A line of its own above another, under the same date. */
export function lineAbove(entry: Entry, text: string, title: string): LogMend[] {
  const date = entry.line.date;
  const dated = date ? `${entry.line.text.slice(date.span.start, date.span.end)}  ${text}` : text;
  return [{ title, edits: [{ entry, where: 'above', text: dated }] }];
}
