import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { size } from '#grammar/values/intervals.ts';
import type { Batch } from './batches.ts';
import { headerLine, type Table } from './columns.ts';
import type { Clash, Names } from './names.ts';
import { oneLine } from './one-line.ts';

type Changed = ReturnType<Names['changed']>;

/** What the log itself has to say of how it came about. */
export function headComments(table: Table, batches: readonly Batch[], changed: Changed, day: Day): string[] {
  const titles = table.above.map(({ cells }) => cells.map(printable).filter(Boolean).join(' | '));
  const used = usedNames(batches);
  const renamed = changed
    .filter(({ name }) => used.has(name))
    .map(({ kind, name, spelled }) => `${kind} ${name}: “${printable(spelled)}” in the sheet`);
  return [
    ...titles,
    ...renamed,
    ...dayComment(batches, day),
    ...batchComment(batches),
    ...numbersComment(batches),
    ...tagComments(batches, table),
  ];
}

const printable = (text: string) =>
  oneLine(text).replace(/[\p{Cc}\p{Zl}\p{Zp}\p{Cs}\u202a-\u202e\u2066-\u2069]/gu, '\uFFFD');

/** Sentences of the preview on the sheet as a whole. */
export function sheetNotes(batches: readonly Batch[], names: Names, day: Day): string[] {
  const used = usedNames(batches);
  const renamed = names.changed().filter(({ name }) => used.has(name));
  const known = names.known().filter(({ name }) => used.has(name));
  const open = openGrafts(batches);
  const declared = new Set(known.map(({ name }) => `in ${name}`));
  const places = batches.some(({ facts, rows }) =>
    [facts, ...rows.map((row) => row.facts)].some((list) =>
      list.some(({ key, text }) => key === 'in' && !declared.has(text)),
    ),
  );
  return [
    ...(renamed.length > 0
      ? [
          `Names begin with a letter, hold together and stand for one thing: ${listed(renamed.map(({ name, spelled }) => `“${headerLine(spelled)}” is ${name}`))}.`,
        ]
      : []),
    ...(known.length > 0
      ? [`Declared in other logs here, and not again: ${listed(known.map(({ name, file }) => `${name} in ${file}`))}.`]
      : []),
    ...dayComment(batches, day).map((comment) => `${comment} --on says another day.`),
    ...batchComment(batches),
    ...numbersComment(batches),
    ...(open
      ? [
          `${open.count.toLocaleString('en')} of the counted grafts are neither taken nor lost in the sheet: they are to judge. Where they are gone, add a line such as fail ${open.name} rest.`,
        ]
      : []),
    ...(places
      ? [
          'What a place gives is not in the sheet: write it behind its name, such as place frame  frost-free shade wind-break.',
        ]
      : []),
  ];
}

/** The sentence that asks whether grafts are on record already. */
export function clashText(clashes: readonly Clash[]): string {
  const [first] = clashes;
  if (!first) return '';
  const { name, file, line } = first.there;
  const many = clashes.length > 1;
  const which = many
    ? `Batches ${listed(clashes.map(({ there }) => there.name))} stand in other logs here already, ${name} in ${file} (line ${line})`
    : `Batch ${name} stands in ${file} (line ${line}) already`;
  return `${which}. If the sheet has the same grafts, they are on record; if it has others, add --rename: ${many ? `${name} becomes ${first.instead}, and so on` : `it becomes ${first.instead}`}.`;
}

const usedNames = (batches: readonly Batch[]): ReadonlySet<string> =>
  new Set(
    batches.flatMap(({ name, facts, rows }) => [
      name,
      ...[...facts, ...rows.flatMap((row) => row.facts)]
        .filter(({ key }) => key === 'in' || key === 'onto' || key === 'from')
        .flatMap(({ text }) => text.slice(text.indexOf(' ') + 1).split(',')),
    ]),
  );

function dayComment(batches: readonly Batch[], day: Day): string[] {
  const undated = batches.some(({ rows }) => rows.some(({ made }) => made.events.some((visit) => visit.undated)));
  return undated ? [`Takes and losses without a day in the sheet stand on ${isoDay(day)}.`] : [];
}

function batchComment(batches: readonly Batch[]): string[] {
  const derived = batches.some(({ rows }) => rows.some(({ made }) => made.batch === undefined));
  return derived ? ['The sheet names no batches: grafts of one pair, method and year are one.'] : [];
}

function numbersComment(batches: readonly Batch[]): string[] {
  const given = batches.filter((batch) => batch.given).map(({ name }) => name);
  return given.length > 0 ? [`The sheet has no numbers for ${listed(given)}: they are given row by row.`] : [];
}

/** Numbers whose spelling changed, one shown for each batch: `K26-003 is K26.3`. */
function tagComments(batches: readonly Batch[], { columns }: Table): string[] {
  const index = columns.find(({ fact }) => fact === 'graft')?.index;
  if (index === undefined) return [];
  const shown = batches.flatMap(({ name, rows }) =>
    rows
      .map(({ made, numbers }) => ({ cell: oneLine(made.row.cells[index] ?? ''), numbers }))
      .filter(
        ({ cell, numbers }) =>
          cell !== '' &&
          numbers?.length === 2 &&
          numbers[0] === numbers[1] &&
          !cell.endsWith(`${name}.${numbers[0]}`) &&
          cell !== String(numbers[0]),
      )
      .slice(0, 1)
      .map(({ cell, numbers }) => `“${printable(cell)}” of the sheet is ${name}.${numbers?.[0]}`),
  );
  return shown.length > 0 ? [`Numbers: ${listed(shown)}.`] : [];
}

/** Grafts of counted rows of which the sheet tells the end of some only, and a batch that has such. */
function openGrafts(batches: readonly Batch[]): { readonly count: number; readonly name: string } | undefined {
  let found: { count: number; name: string } | undefined;
  for (const { name, rows } of batches)
    for (const { made, numbers } of rows) {
      const all = numbers ? size(numbers) : (made.count ?? 1);
      const ended = made.events
        .filter(({ verb }) => verb === 'take' || verb === 'fail')
        .reduce((sum, { count }) => sum + (count ?? all), 0);
      if (ended > 0 && ended < all) found = { count: (found?.count ?? 0) + all - ended, name: found?.name ?? name };
    }
  return found;
}

const listed = (items: readonly string[]) =>
  items.length > 8 ? `${items.slice(0, 8).join(', ')} and ${items.length - 8} more` : items.join(', ');
