import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { intersect, size } from '#grammar/values/intervals.ts';
import { allVerbs, causes, methods } from '#grammar/vocabulary.ts';
import type { Answers } from '#server/engine/answers.ts';
import { stayOn } from '#server/engine/cover.ts';
import { factOf, namedIn, shareOf, wordIn } from '#server/engine/facts.ts';
import { levelOf, numberOf } from '#server/engine/figures/levels.ts';
import { graftsText } from '#server/engine/grafts-text.ts';
import type { BatchHistory, Cohort, Visit } from '#server/engine/model.ts';
import { livingOf, stageOf, stages } from '#server/engine/stage.ts';
import { told } from '#server/engine/story.ts';
import { lineColumns } from './lines.ts';
import { type Column, type Table, tableOf } from './table.ts';

/** Grafts with one history, numbered through the export. */
interface Numbered {
  readonly id: number;
  readonly cohort: Cohort;
  readonly history: BatchHistory;
}

/** The grafts, and what each went through. */
export function graftTables(answers: Answers): Table[] {
  return [
    tableOf(
      {
        name: 'grafts',
        title: 'Grafts by cohort',
        help: 'A row for all grafts of a batch that have one history. Where some were counted and not named (`pooled`), dates and causes of those stand nowhere here: the figures have their sums.',
        key: ['cohort'],
      },
      graftColumns(answers),
      () => numbered(answers),
    ),
    tableOf(
      {
        name: 'visits',
        title: 'Visits',
        help: 'A row for each line of the log that reached a cohort, in order. Of the lines on its place only those that reach a graft there.',
        refers: { column: 'cohort', table: 'grafts' },
      },
      visitColumns(answers),
      () => visitsOf(answers),
    ),
  ];
}

function* numbered(answers: Answers): Generator<Numbered> {
  let id = 0;
  for (const { history } of answers.all()) for (const cohort of history.cohorts) yield { id: ++id, cohort, history };
}

const dayText = (day: Day | undefined) => (day === undefined ? null : isoDay(day));

const setColumns: readonly Column<Numbered>[] = [
  {
    ...{ name: 'cohort', type: 'integer', always: true },
    help: 'Number of the row within this export.',
    of: ({ id }) => id,
  },
  { name: 'batch', type: 'string', always: true, help: 'The batch.', of: ({ cohort }) => cohort.batch.name },
  {
    ...{ name: 'grafts', type: 'string', always: true },
    help: 'The set as the log writes it; the batch where grafts have no numbers.',
    of: ({ cohort }) => graftsText(cohort.batch, cohort.numbers),
  },
];

function graftColumns({ log, day, env }: Answers): readonly Column<Numbered>[] {
  const place = (cohort: Cohort, on: Day) => {
    const key = stayOn(cohort, on)?.place;
    return key === undefined ? null : (log.names.declared(key)?.name ?? key);
  };
  return [
    ...setColumns,
    {
      name: 'count',
      type: 'integer',
      unit: '1',
      always: true,
      help: 'How many were made.',
      of: ({ cohort }) => size(cohort.numbers),
    },
    {
      name: 'living',
      type: 'integer',
      unit: '1',
      always: true,
      help: 'How many live.',
      of: ({ cohort, history }) => livingOf(history, cohort),
    },
    { name: 'made', type: 'date', always: true, help: 'Day of grafting.', of: ({ cohort }) => isoDay(cohort.madeDay) },
    {
      name: 'method',
      type: 'string',
      words: methods,
      help: 'How they were grafted.',
      of: ({ cohort }) => cohort.method,
    },
    { name: 'scion', type: 'string', help: 'The plant grafted.', of: ({ cohort }) => cohort.scion?.text },
    { name: 'interstem', type: 'string', help: 'What stands between.', of: ({ cohort }) => cohort.interstem?.text },
    { name: 'understock', type: 'string', help: 'The plant grafted on.', of: ({ cohort }) => cohort.stock?.text },
    { name: 'hand', type: 'string', help: 'Who made them.', of: ({ cohort }) => cohort.hand },
    {
      name: 'madeAt',
      type: 'string',
      help: 'Where they stood when made.',
      of: ({ cohort }) => place(cohort, cohort.madeDay),
    },
    { name: 'place', type: 'string', help: 'Where they stand now.', of: ({ cohort }) => place(cohort, day) },
    { name: 'lot', type: 'string', help: 'The lot of scion wood.', of: ({ cohort }) => levelOf('lot', cohort, env) },
    { name: 'wood', type: 'string', help: 'How ripe the wood was.', of: ({ cohort }) => levelOf('wood', cohort, env) },
    { name: 'label', type: 'string', help: 'A mark to compare by.', of: ({ cohort }) => levelOf('label', cohort, env) },
    {
      name: 'depth',
      type: 'number',
      unit: '1',
      help: 'Depth of the cut, a share of the understock.',
      of: ({ cohort }) => numberOf('depth', cohort, env),
    },
    {
      name: 'scionSize',
      type: 'number',
      unit: 'mm',
      help: 'Thickness of the scion.',
      of: ({ cohort }) => numberOf('scion-size', cohort, env),
    },
    {
      name: 'long',
      type: 'number',
      unit: 'mm',
      help: 'Long face of the cut.',
      of: ({ cohort }) => numberOf('long', cohort, env),
    },
    {
      name: 'whorls',
      type: 'number',
      unit: '1',
      help: 'Whorls left on the scion.',
      of: ({ cohort }) => numberOf('whorls', cohort, env),
    },
    {
      name: 'stored',
      type: 'number',
      unit: 'd',
      help: 'Days from cutting the wood to grafting.',
      of: ({ cohort }) => numberOf('store', cohort, env),
    },
    {
      name: 'stage',
      type: 'string',
      words: stages,
      always: true,
      help: 'How far they have come.',
      of: ({ cohort }) => stageOf(cohort),
    },
    { name: 'swelling', type: 'date', help: 'First swelling seen.', of: ({ cohort }) => dayText(cohort.swell) },
    { name: 'free', type: 'date', help: 'The bud is out.', of: ({ cohort }) => dayText(cohort.free) },
    { name: 'taken', type: 'date', help: 'Judged grown together.', of: ({ cohort }) => dayText(cohort.take) },
    { name: 'lost', type: 'date', help: 'Lost.', of: ({ cohort }) => dayText(cohort.fail?.day) },
    {
      name: 'cause',
      type: 'string',
      words: causes,
      help: 'Why they were lost.',
      of: ({ cohort }) => cohort.fail?.cause,
    },
    { name: 'sold', type: 'date', help: 'Left our hands.', of: ({ cohort }) => dayText(cohort.sold) },
    { name: 'untied', type: 'date', help: 'Binding taken off.', of: ({ cohort }) => dayText(cohort.untied) },
    {
      name: 'open',
      type: 'number',
      unit: '1',
      always: true,
      help: 'Share of the wrap open now.',
      of: ({ cohort }) => cohort.share,
    },
    {
      name: 'headback',
      type: 'number',
      unit: '1',
      always: true,
      help: 'Share of the understock gone by now.',
      of: ({ cohort }) => cohort.headback,
    },
    {
      name: 'severed',
      type: 'number',
      unit: '1',
      always: true,
      help: 'How far cut from what fed them.',
      of: ({ cohort }) => cohort.severed,
    },
    {
      ...{ name: 'pooled', type: 'boolean', always: true },
      help: 'Part of them was counted and not named: which were lost or taken nobody wrote.',
      of: ({ cohort, history }) =>
        cohort.undivided || history.tallies.some(({ over }) => intersect(over, cohort.numbers).length > 0),
    },
    ...lineColumns<Numbered>(log, ({ cohort }) => cohort.made, 'that made them'),
  ];
}

interface Visited extends Numbered {
  readonly visit: Visit;
}

function* visitsOf(answers: Answers): Generator<Visited> {
  for (const one of numbered(answers)) for (const visit of one.cohort.visits) if (told(visit)) yield { ...one, visit };
}

const visitColumns = ({ log }: Answers): readonly Column<Visited>[] => [
  ...setColumns,
  { name: 'date', type: 'date', always: true, help: 'Day of the visit.', of: ({ visit }) => isoDay(visit.day) },
  {
    name: 'verb',
    type: 'string',
    words: allVerbs,
    always: true,
    help: 'What was done.',
    of: ({ visit }) => visit.verb,
  },
  {
    ...{ name: 'via', type: 'string', words: ['set', 'place', 'tree', 'lot'], always: true },
    help: 'What the line names: the grafts, or the place, tree or lot they belong to.',
    of: ({ visit }) => visit.via,
  },
  {
    name: 'share',
    type: 'number',
    unit: '1',
    help: 'How far it was then.',
    of: ({ visit }) => shareOf(visit.statement),
  },
  {
    name: 'cause',
    type: 'string',
    help: 'Why they were lost.',
    of: ({ visit }) => wordIn(factOf(visit.statement, 'cause')),
  },
  {
    name: 'to',
    type: 'string',
    help: 'Where they were moved.',
    of: ({ visit }) => namedIn(factOf(visit.statement, 'to'))?.text,
  },
  {
    ...{ name: 'seen', type: 'string' },
    help: 'Words without a value: what was seen, what was put on.',
    of: ({ visit }) =>
      visit.statement.facts
        .filter(({ value, lost }) => value.kind === 'flag' && !lost)
        .map(({ key }) => key)
        .join(' ') || null,
  },
  {
    name: 'some',
    type: 'boolean',
    always: true,
    help: 'It spoke of some of them without saying which.',
    of: ({ visit }) => visit.undivided === true,
  },
  { name: 'remark', type: 'string', help: 'The line’s own words.', of: ({ visit }) => visit.statement.remark?.text },
  ...lineColumns<Visited>(log, ({ visit }) => visit.entry, 'that says it'),
];
