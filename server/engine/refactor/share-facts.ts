import { readLine } from '#grammar/line.ts';
import { replaced } from '#grammar/own-words.ts';
import { sameLine } from '#grammar/same-line.ts';
import type { Fact, Line } from '#grammar/statement.ts';
import { factsOf, type Key } from '#grammar/vocabulary.ts';
import { notCarried } from '../batch.ts';
import { factOf, namedIn } from '../facts.ts';
import type { Log } from '../log.ts';
import type { Entry, LogEdit } from '../model.ts';
import { withBlank } from '../name-findings.ts';

/** Which plant a graft is comes from its wood and its tree: on the line they stand over the batch's plants, on the batch below. */
const plantSources: ReadonlySet<Key> = new Set<Key>(['onto', 'from', 'lot']);
const movable: ReadonlySet<Key> = new Set(factsOf('batch').filter((key) => !plantSources.has(key) && key !== 'like'));
/** So many lines are looked through; more is no batch written by hand. */
const mostLines = 1000;

export interface Shared {
  readonly batch: Entry;
  readonly name: string;
  /** As the first line writes them. */
  readonly facts: readonly string[];
  readonly edits: readonly LogEdit[];
}

/**
 * Facts that all graft lines of a batch say alike, moved up to the batch's own line. Only where that changes nothing:
 * the batch says nothing of them yet, and no batch that is `like` it would take them over.
 */
export function shareFacts(batch: string, log: Log): Shared | undefined {
  const declared = log.names.declared(batch);
  if (declared?.kind !== 'batch' || log.names.declarations(batch).length > 1 || hasError(declared.entry.line))
    return undefined;
  const own = declared.entry.line.statement;
  const lines = (log.names.workOn(batch)?.all ?? []).filter(({ line }) => line.statement?.verb === 'graft');
  const [first] = lines;
  if (!first || lines.length < 2 || lines.length > mostLines || lines.some(({ line }) => hasError(line)))
    return undefined;
  const liked = log.names
    .mentions(batch)
    .some(({ line: { statement } }) => namedIn(factOf(statement, 'like'))?.key === batch);
  const shared = (first.line.statement?.facts ?? []).filter(
    (fact) =>
      movable.has(fact.key) &&
      !(liked && !notCarried.has(fact.key)) &&
      !factOf(own, fact.key) &&
      lines.every(({ line }) => saysOnce(line, fact)),
  );
  if (shared.length === 0) return undefined;
  const facts = shared.map(({ span }) => first.line.text.slice(span.start, span.end));
  const edits = [append(declared.entry, facts), ...lines.flatMap((entry) => without(entry, shared))];
  if (!lines.every((entry) => readsAlike(entry, shared)) || !takesIn(declared.entry, facts, shared)) return undefined;
  return { batch: declared.entry, name: declared.name, facts, edits };
}

const hasError = ({ statement, problems }: Line): boolean =>
  !statement || statement.idle === true || problems.some(({ severity }) => severity === 'error');

const valueText = (fact: Fact): string =>
  JSON.stringify(fact.value, (key, value) => (key === 'span' ? undefined : value));

/** The same fact with the same value, once and read. */
function saysOnce({ statement }: Line, fact: Fact): boolean {
  const mine = (statement?.facts ?? []).filter(({ key }) => key === fact.key);
  return mine.length === 1 && mine.every((one) => !one.lost && valueText(one) === valueText(fact));
}

const without = (entry: Entry, shared: readonly Fact[]): LogEdit[] =>
  (entry.line.statement?.facts ?? [])
    .filter(({ key }) => shared.some((fact) => fact.key === key))
    .map(({ span }) => ({ entry, where: 'in', span: withBlank(entry, span), text: '' }));

function append(entry: Entry, facts: readonly string[]): LogEdit {
  const { text, comment } = entry.line;
  const end = text.slice(0, comment?.start ?? text.length).trimEnd().length;
  return { entry, where: 'in', span: { start: end, end }, text: facts.map((fact) => `  ${fact}`).join('') };
}

/** A line without the facts still says all else: nothing beside them reads them together with its neighbours. */
function readsAlike(entry: Entry, shared: readonly Fact[]): boolean {
  const { statement } = entry.line;
  if (!statement) return false;
  const edits = without(entry, shared).map(({ span, text }) => ({ span: span ?? { start: 0, end: 0 }, text }));
  const facts = statement.facts.filter(({ key }) => !shared.some((fact) => fact.key === key));
  return sameLine({ ...entry.line, statement: { ...statement, facts } }, readLine(replaced(entry.line.text, edits)));
}

/** The batch's line reads each of them as it was read there. */
function takesIn(entry: Entry, facts: readonly string[], shared: readonly Fact[]): boolean {
  const { statement } = entry.line;
  if (!statement) return false;
  const { span, text } = append(entry, facts);
  const written = replaced(entry.line.text, [{ span: span ?? { start: 0, end: 0 }, text }]);
  return sameLine(
    { ...entry.line, statement: { ...statement, facts: [...statement.facts, ...shared] } },
    readLine(written),
  );
}
