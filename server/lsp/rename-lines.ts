import type { Span } from '#grammar/finding.ts';
import { readLine } from '#grammar/line.ts';
import type { Line, SetRef, Value } from '#grammar/statement.ts';
import type { Entry } from '#server/engine/model.ts';
import { byCodePoint } from '#server/engine/order.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Slices } from './feature.ts';
import { type Named, namesIn, saysName } from './name-at.ts';
import { refused } from './refused.ts';

/** One piece of text that becomes another. */
export interface Change {
  readonly entry: Entry;
  readonly span: Span;
  readonly text: string;
  /** The name itself, or the same word in free text, where it may mean something else. */
  readonly why: 'name' | 'remark';
}

/** Every place of a name, by file; copies of a file, which take no part in the log, are renamed with it. */
export function* changesFor(root: Root, named: Named, text: string, remarks: boolean): Slices<Map<string, Change[]>> {
  const found = new Map<string, Change[]>();
  const inText = remarks ? wordOf(named.name.text) : undefined;
  for (const file of [...root.log.fileNames].sort(byCodePoint)) {
    const changes: Change[] = [];
    for (const [i, entry] of (root.log.document(file)?.entries ?? []).entries()) {
      if (i % 1000 === 999) yield;
      const names = namesOn(entry, named).filter((span) => entry.line.text.slice(span.start, span.end) !== text);
      const change = (span: Span, why: Change['why']): Change => ({ entry, span, text, why });
      if (names.length > 0) {
        const own = names.map((span) => change(span, 'name'));
        keepsItsMeaning(root, entry, own, named, text);
        changes.push(...own);
      }
      if (inText) changes.push(...wordsIn(entry.line, inText).map((span) => change(span, 'remark')));
    }
    if (changes.length > 0) found.set(file, changes);
  }
  return found;
}

function namesOn({ line: { statement } }: Entry, { name, as }: Named): Span[] {
  if (!statement || !saysName(statement, name.key)) return [];
  return namesIn(statement)
    .filter((place) => place.name.key === name.key && (place.as === 'hand') === (as === 'hand'))
    .map((place) => place.name.span);
}

/** In prose a plain small word (`frame`) is seldom the thing; a name with a capital or a figure (`K26`) is. */
function wordOf(name: string): RegExp | undefined {
  if (!/[\p{Lu}\p{N}]/u.test(name)) return undefined;
  return new RegExp(String.raw`(?<![\p{L}\p{M}\p{N}_'’-])${name}(?![\p{L}\p{M}\p{N}_'’-])`, 'giu');
}

function wordsIn({ text, statement, comment }: Line, word: RegExp): Span[] {
  const free = [
    statement?.remark?.span,
    comment,
    statement ? undefined : { start: 0, end: comment?.start ?? text.length },
  ];
  return free.flatMap((span) =>
    span === undefined
      ? []
      : [...text.slice(span.start, span.end).matchAll(word)].map(({ index, 0: { length } }) => ({
          start: span.start + index,
          end: span.start + index + length,
        })),
  );
}

/** Reads the line as it would stand, and refuses where more has changed than the name. */
function keepsItsMeaning(root: Root, entry: Entry, changes: readonly Change[], { name }: Named, text: string): void {
  let after = entry.line.text;
  for (const { span } of [...changes].sort((a, b) => b.span.start - a.span.start))
    after = after.slice(0, span.start) + text + after.slice(span.end);
  const keys = new Set([name.key, text.toLowerCase()]);
  if (meaningOf(readLine(after), keys) === meaningOf(entry.line, keys)) return;
  const line = (root.log.document(entry.file)?.lineOf(entry) ?? 0) + 1;
  throw refused(
    `As \`${text}\` it would be read otherwise on line ${line} of ${entry.file}: \`${entry.line.text.trim().slice(0, 60)}\`. Choose another name.`,
  );
}

/** All a line says, with the name, old or new, left open. */
function meaningOf({ date, time, statement, comment, problems, text }: Line, keys: ReadonlySet<string>): string {
  const open = (key: string) => (keys.has(key) ? '·' : key);
  const set = ({ name, numbers, rest, except, count }: SetRef) => [
    open(name.key),
    numbers,
    rest,
    except?.map((one) => [open(one.name.key), one.numbers]),
    count?.value,
  ];
  const value = (of: Value) =>
    of.kind === 'name' ? open(of.name.key) : of.kind === 'names' ? of.names.map(({ key }) => open(key)) : of;
  return JSON.stringify([
    date?.day,
    time?.minutes,
    statement?.verb,
    statement?.idle,
    statement?.sets.map(set),
    statement?.facts.map((fact) => [fact.key, value(fact.value), fact.lost]),
    [statement?.taxa?.scion, statement?.taxa?.interstem, statement?.taxa?.stock].map((taxon) => taxon?.text),
    statement?.scopes?.map((scope) =>
      scope.kind === 'set'
        ? set(scope.set)
        : scope.kind === 'plant'
          ? scope.taxon.text
          : [scope.kind, 'words' in scope && scope.words],
    ),
    statement?.codes?.map((code) => code.text),
    statement?.spare?.map(({ key }) => open(key)),
    statement?.remark?.text,
    comment && text.slice(comment.start),
    problems.map(({ code }) => code),
  ]);
}
