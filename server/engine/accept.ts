import { type Code, codes } from '#grammar/codes.ts';
import type { Day, Intervals, Scope, Taxon } from '#grammar/statement.ts';
import { intersect, same, subtract } from '#grammar/values/intervals.ts';
import type { Method } from '#grammar/vocabulary.ts';
import type { Entry, Group } from './model.ts';
import { isPlant } from './practice-match.ts';
import { isDetached } from './practice-subject.ts';

/** What a finding is about, as far as it is known; of grafts all must be meant. */
export interface Accepted {
  readonly entry: Entry;
  /** The day of the work the finding is about. */
  readonly day: Day;
  readonly batch?: string;
  readonly numbers?: Intervals;
  readonly place?: string;
  readonly tree?: string;
  readonly method?: Method;
  readonly group?: Group;
  readonly scion?: Taxon;
}

export interface Accepts {
  /** "I know": on the finding's own line, or by an `accept` line of which any scope holds. Never an error. */
  covers(code: Code, about: Accepted): boolean;
  /** Sets of a batch that are accepted apart: a set is cut along them before it is judged. */
  setsOf(batch: string): readonly Intervals[];
}

interface AcceptRow {
  readonly scopes: readonly Scope[];
  readonly since?: Day;
}

/** Of the log's `accept` lines. */
export function acceptsOf(lines: readonly Entry[]): Accepts {
  const rows = new Map<string, AcceptRow[]>();
  const sets = new Map<string, Intervals[]>();
  for (const { line } of lines) {
    const statement = line.statement;
    if (statement?.verb !== 'accept' || statement.idle) continue;
    const scopes = statement.scopes ?? [];
    const row: AcceptRow = { scopes, ...(line.date ? { since: line.date.day } : {}) };
    for (const { text } of statement.codes ?? []) push(rows, text, row);
    for (const scope of scopes) {
      if (scope.kind !== 'set') continue;
      const { name, numbers, except } = scope.set;
      for (const set of [...(numbers ? [numbers] : []), ...(except ?? []).map((other) => other.numbers)])
        push(sets, name.key, set);
    }
  }
  return {
    covers(code, about) {
      if (codes[code].found !== 'practice' && codes[code].found !== 'attention') return false;
      if (onItsLine(code, about.entry)) return true;
      return (rows.get(code) ?? []).some((row) => {
        if (row.since !== undefined && about.day < row.since) return false;
        return row.scopes.length === 0 || row.scopes.some((scope) => holds(scope, about));
      });
    },
    setsOf: (batch) => sets.get(batch) ?? [],
  };
}

function onItsLine(code: Code, entry: Entry): boolean {
  return (entry.line.statement?.facts ?? []).some(
    (fact) => fact.key === 'accept' && fact.value.kind === 'words' && fact.value.words.includes(code),
  );
}

function holds(scope: Scope, about: Accepted): boolean {
  switch (scope.kind) {
    case 'any':
      return true;
    case 'detached':
      return isDetached(about.method);
    case 'method':
      return about.method !== undefined && scope.words.includes(about.method);
    case 'group':
      return about.group !== undefined && scope.words.includes(about.group);
    case 'plant':
      return about.scion !== undefined && isPlant(about.scion, scope.taxon);
    case 'set': {
      const { name, numbers, except } = scope.set;
      if (name.key === about.place || name.key === about.tree) return true;
      if (name.key !== about.batch) return false;
      let meant = about.numbers ?? [];
      if (numbers) meant = intersect(meant, numbers);
      for (const other of except ?? []) meant = subtract(meant, other.numbers);
      return about.numbers === undefined ? !numbers : same(meant, about.numbers);
    }
  }
}

function push<V>(map: Map<string, V[]>, key: string, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
