import type { Scope, Taxon } from '#grammar/statement.ts';
import { months } from '#grammar/vocabulary.ts';
import type { Entry, Group } from './model.ts';
import { groupOf } from './plant.ts';
import type { Practice } from './practice.ts';
import { isPlant } from './practice-match.ts';
import type { PracticeRow } from './practice-rows.ts';
import { isDetached } from './practice-subject.ts';
import { isSouth, turned } from './practice-year.ts';

/**
 * Shipped lines that stay in force for some of those an own line is written for, because they are closer.
 * No finding: hover and lens on the own line say so, and offer to copy them.
 */
export function closerLines(own: PracticeRow, practice: Practice): readonly PracticeRow[] {
  return practice.rows.filter(
    (row) =>
      row.shipped &&
      row.id === own.id &&
      (row.rank > own.rank || (row.rank === own.rank && row.extent > own.extent)) &&
      own.scopes.every((a) => row.scopes.every((b) => overlap(a, b))),
  );
}

/** `practice.graft:26, for needle conifers`. */
export function whereText({ entry, scopes }: PracticeRow): string {
  const who = scopes.map((scope) => scopeText(scope)).filter((text) => text !== '');
  return `${entry.file}:${entry.rank + 1}${who.length > 0 ? `, for ${who.join(', ')}` : ''}`;
}

const groupWords: Readonly<Record<Group, string>> = {
  needle: 'needle conifers',
  scale: 'scale-leaved conifers',
  shedding: 'conifers that shed',
  broadleaf: 'broadleaves',
};

function scopeText(scope: Scope): string {
  switch (scope.kind) {
    case 'group':
      return scope.words.map((word) => groupWords[word as Group] ?? word).join(' and ');
    case 'method':
      return scope.words.join(' and ');
    case 'plant':
      return scope.taxon.text;
    case 'set':
      return scope.set.name.text;
    case 'detached':
      return 'scion grafts';
    case 'any':
      return '';
  }
}

/** Whether some graft can be meant by both. */
function overlap(a: Scope, b: Scope): boolean {
  if (a.kind === 'method' && b.kind === 'method') return a.words.some((word) => b.words.includes(word));
  if (a.kind === 'group' && b.kind === 'group') return a.words.some((word) => b.words.includes(word));
  if (a.kind === 'plant' && b.kind === 'plant') return isPlant(a.taxon, b.taxon) || isPlant(b.taxon, a.taxon);
  if (a.kind === 'method' && b.kind === 'detached') return anyDetached(a.words);
  if (a.kind === 'detached' && b.kind === 'method') return anyDetached(b.words);
  if (a.kind === 'plant' && b.kind === 'group') return inGroup(a.taxon, b.words);
  if (a.kind === 'group' && b.kind === 'plant') return inGroup(b.taxon, a.words);
  return true;
}

const anyDetached = (words: readonly string[]) =>
  words.some((word) => isDetached(word as Parameters<typeof isDetached>[0]));
const inGroup = (taxon: Taxon, words: readonly string[]) => words.includes(groupOf(taxon) ?? '');

/** A shipped line as it is written into a log: its months turned where the log is southern. */
export function copyOf({ line }: Entry, lat: number | undefined): string {
  if (!isSouth(lat)) return line.text.trim();
  const spans = (line.statement?.facts ?? [])
    .filter(({ value }) => value.kind === 'year' || value.kind === 'dates')
    .map(({ valueSpan }) => valueSpan)
    .sort((a, b) => b.start - a.start);
  let text = line.text;
  for (const { start, end } of spans)
    text = text.slice(0, start) + turnedText(text.slice(start, end)) + text.slice(end);
  return text.trim();
}

const monthWord = new RegExp(`\\b(${months.join('|')})(-\\d{1,2})?\\b`, 'g');

/** `mar-01..may-15` becomes `sep-01..nov-15`; seasons and edges turn by themselves. */
function turnedText(text: string): string {
  return text.replace(monthWord, (_, name: (typeof months)[number], day: string | undefined) => {
    const to = turned({ month: months.indexOf(name) + 1, day: day === undefined ? 1 : Number(day.slice(1)) });
    const word = months[to.month - 1] ?? name;
    return day === undefined ? word : `${word}-${String(to.day).padStart(2, '0')}`;
  });
}
