import type { Location } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import type { Name } from '#grammar/statement.ts';
import { contains } from '#grammar/values/intervals.ts';
import type { Entry } from '#server/engine/model.ts';
import { entryAt, type FileView, inside } from './feature.ts';
import { toLocation } from './to-protocol.ts';

/** A name under a position, and of a set its first number. */
export interface Named {
  readonly name: Name;
  readonly number?: number;
}

export function nameAt(entry: Entry, character: number): Named | undefined {
  const { statement } = entry.line;
  if (!statement) return undefined;
  const sets = [
    ...statement.sets,
    ...(statement.scopes ?? []).flatMap((scope) => (scope.kind === 'set' ? [scope.set] : [])),
  ];
  for (const set of sets) {
    const except = set.except?.find(({ span }) => inside(span, character));
    if (except) return { name: except.name, ...first(except.numbers) };
    if (inside(set.span, character)) return { name: set.name, ...first(set.numbers) };
  }
  for (const { value } of statement.facts) {
    const names = value.kind === 'name' ? [value.name] : value.kind === 'names' ? value.names : [];
    const name = names.find(({ span }) => inside(span, character));
    if (name) return { name };
  }
  return undefined;
}

const first = (numbers: readonly number[] | undefined) => (numbers?.[0] === undefined ? {} : { number: numbers[0] });

/** From a name to the line that gives it; from a graft with its number to the line that made it. */
export function definition(view: FileView, position: Position): Location[] {
  const entry = entryAt(view, position);
  const named = entry && nameAt(entry, position.character);
  if (!named) return [];
  const { root } = view;
  const declared = root.log.names.declared(named.name.key);
  if (named.number !== undefined) {
    const made = madeBy(view, named.name.key, named.number);
    if (made && made !== entry)
      return [toLocation(root, made, made.line.statement?.sets[0]?.span ?? { start: 0, end: 0 })];
  }
  if (!declared) return [];
  return [toLocation(root, declared.entry, declared.entry.line.statement?.sets[0]?.name.span ?? { start: 0, end: 0 })];
}

export function madeBy({ root }: Pick<FileView, 'root'>, batch: string, number: number): Entry | undefined {
  return root.answers.histories.of(batch).cohorts.find((cohort) => contains(cohort.numbers, number))?.made;
}
