import { severities } from '#grammar/finding.ts';
import { isoDay } from '#grammar/values/date.ts';
import { causes, workWords } from '#grammar/vocabulary.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { Group } from '#server/engine/figures/groups.ts';
import { statsOf } from '#server/engine/figures/stats.ts';
import type { Finding, WorkItem } from '#server/engine/model.ts';
import { lineColumns } from './lines.ts';
import { type Column, type Table, tableOf } from './table.ts';

/** What follows from the log: findings as `check` has them, work as `due` has it, figures as `stats` has them. */
export function toldTables(answers: Answers): Table[] {
  return [findingTable(answers), workTable(answers), ...figureTables(answers)];
}

const findingTable = (answers: Answers): Table =>
  tableOf<Finding>(
    { name: 'findings', title: 'Findings', help: 'What `graftlog check` finds, by file and line.' },
    [
      ...lineColumns<Finding>(answers.log, ({ entry }) => entry, 'it stands on'),
      {
        name: 'column',
        type: 'integer',
        always: true,
        help: 'Where it begins, from 1.',
        of: ({ span }) => span.start + 1,
      },
      { name: 'endColumn', type: 'integer', always: true, help: 'Where it ends.', of: ({ span }) => span.end + 1 },
      {
        name: 'severity',
        type: 'string',
        words: severities,
        always: true,
        help: 'How bad it is.',
        of: ({ severity }) => severity,
      },
      { name: 'code', type: 'string', always: true, help: 'Its code, which has a page.', of: ({ code }) => code },
      { name: 'grafts', type: 'string', help: 'The grafts concerned.', of: ({ grafts }) => grafts },
      { name: 'message', type: 'string', always: true, help: 'The sentence.', of: ({ message }) => message },
    ],
    () => answers.findings(),
  );

export const workTable = (answers: Answers): Table =>
  tableOf<WorkItem>(
    { name: 'work', title: 'Work', help: 'What `graftlog due` lists: the next work of each set, with its window.' },
    [
      { name: 'what', type: 'string', words: workWords, always: true, help: 'The work.', of: ({ what }) => what },
      { name: 'grafts', type: 'string', always: true, help: 'The grafts it is for.', of: ({ grafts }) => grafts },
      {
        name: 'count',
        type: 'integer',
        unit: '1',
        always: true,
        help: 'How many of them live.',
        of: ({ count }) => count,
      },
      { name: 'batch', type: 'string', always: true, help: 'Their batch.', of: ({ batch }) => batch.name },
      { name: 'place', type: 'string', help: 'Where they stand.', of: ({ place }) => place },
      { name: 'hand', type: 'string', help: 'Who made them.', of: ({ hand }) => hand },
      { name: 'from', type: 'date', always: true, help: 'First day of the window.', of: ({ from }) => isoDay(from) },
      { name: 'by', type: 'date', always: true, help: 'Last day of the window.', of: ({ by }) => isoDay(by) },
      {
        ...{ name: 'state', type: 'string', words: ['overdue', 'due', 'soon', 'later'], always: true },
        help: 'Where the day computed for lies.',
        of: ({ state }) => state,
      },
      { name: 'waits', type: 'boolean', always: true, help: 'It can wait past its window.', of: ({ waits }) => waits },
      { name: 'toLow', type: 'number', unit: '1', help: 'Least share after the step.', of: ({ to }) => to?.low },
      { name: 'toHigh', type: 'number', unit: '1', help: 'Largest share after the step.', of: ({ to }) => to?.high },
      { name: 'minutes', type: 'number', unit: 'min', help: 'Time for all of it.', of: ({ minutes }) => minutes },
      { name: 'why', type: 'string', always: true, help: 'Where it comes from.', of: ({ why }) => why },
      ...lineColumns<WorkItem>(answers.log, ({ entry }) => entry, 'that names the set last'),
    ],
    () => answers.work(),
  );

function figureTables(answers: Answers): Table[] {
  const groups = () => statsOf(answers.record(), { by: ['batch'], compare: [] }, answers.env).groups;
  const count = (name: keyof Group & string, help: string): Column<Group> => ({
    ...{ name, help, type: 'integer', unit: '1', always: true },
    of: (group) => group[name] as number,
  });
  const share = (name: keyof Group & string, help: string): Column<Group> => ({
    ...{ name, help, type: 'number', unit: '1' },
    of: (group) => group[name] as number | null,
  });
  const batch = <Row extends { readonly key: Group['key'] }>(): Column<Row> => ({
    ...{ name: 'batch', type: 'string', always: true, help: 'The batch.' },
    of: ({ key }) => key.batch ?? null,
  });
  return [
    tableOf(
      {
        name: 'figures',
        title: 'Figures',
        help: 'What `graftlog stats` says of each batch. Shares are 0 to 1.',
        key: ['batch'],
      },
      [
        batch<Group>(),
        count('grafted', 'Made.'),
        count('taken', 'Judged grown together.'),
        count('failed', 'Lost.'),
        count('open', 'To judge.'),
        count('early', 'Takes younger than can be told for sure; among the taken.'),
        count('late', 'Lost after a take; among the lost.'),
        count('excluded', 'Of sets counted over several groups.'),
        share('rate', 'Taken, of those judged; empty where none is.'),
        share('low', 'Lower 95 % limit of the rate.'),
        share('high', 'Upper 95 % limit of the rate.'),
        share('worst', 'The rate if all to judge were lost.'),
        share('best', 'The rate if all to judge were taken.'),
        {
          name: 'outerLow',
          type: 'number',
          unit: '1',
          help: 'Lower limit, whatever becomes of those to judge.',
          of: ({ outer }) => outer?.low,
        },
        {
          name: 'outerHigh',
          type: 'number',
          unit: '1',
          help: 'Upper limit, whatever becomes of those to judge.',
          of: ({ outer }) => outer?.high,
        },
        share('expected', 'Share taken in the end to expect.'),
      ],
      groups,
    ),
    tableOf(
      {
        name: 'causes',
        title: 'Causes of loss',
        help: 'How many of each batch were lost to what.',
        key: ['batch', 'cause'],
      },
      [
        batch<Lost>(),
        { name: 'cause', type: 'string', words: causes, always: true, help: 'The cause.', of: ({ cause }) => cause },
        { name: 'count', type: 'integer', unit: '1', always: true, help: 'Lost to it.', of: ({ count }) => count },
      ],
      () => lostOf(groups()),
    ),
  ];
}

interface Lost {
  readonly key: Group['key'];
  readonly cause: string;
  readonly count: number;
}

function* lostOf(groups: readonly Group[]): Generator<Lost> {
  for (const { key, causes } of groups)
    for (const [cause, count] of Object.entries(causes)) yield { key, cause, count };
}
