import { parseArgs } from 'node:util';
import { labelSizes } from '#server/report/label-sizes.ts';
import { paragraph } from '#server/report/text-page.ts';

/** THE table of the command line: help, usage errors and parsing are made from it. */
export const commands = {
  check: { takes: '[PATH...]', does: 'every finding, sorted by file and line', options: ['fail-on'] },
  due: { takes: '[PATH...]', does: 'the work list', options: ['hours', 'spreadsheet'] },
  stats: { takes: '[PATH...]', does: 'take rates and comparisons, with how sure they are', options: ['by', 'compare'] },
  plan: {
    takes: '[PATH...] --takes N',
    does: 'how many to graft to have so many taken, and what that needs',
    options: ['takes', 'confidence', 'like', 'batches', 'hours'],
  },
  trial: {
    takes: '[PATH...] --ways A,B',
    does: 'a field trial: how many to learn which is better, and a fair bench order',
    options: ['ways', 'points', 'seed'],
  },
  format: {
    takes: '[PATH...]',
    does: 'tidy layout; never a changed meaning, never a lost comment',
    options: ['check'],
  },
  sheet: { takes: '[PATH...]', does: 'bench sheet and week, a page to print', options: ['out'] },
  labels: {
    takes: '[PATH...] --of SET',
    does: 'plant labels with a code, sheets to print',
    options: ['of', 'out', 'size', 'code'],
  },
  report: {
    takes: '[PATH...]',
    does: 'the season report: a page to look at and to print',
    options: ['out', 'hours'],
  },
  export: {
    takes: '[PATH...] --out DIR',
    does: 'tables as CSV with a Tabular Data Package; nothing is written over',
    options: ['out', 'spreadsheet'],
  },
  import: {
    takes: 'FILE.csv',
    does: 'a spreadsheet as a log, after a preview; nothing is written over',
    options: ['out', 'map', 'dates', 'rename'],
  },
  lsp: { takes: '', does: 'the language server on stdio', options: ['stdio'] },
} as const;
export type Command = keyof typeof commands;

interface OptionRow {
  readonly type: 'string' | 'boolean';
  readonly value?: string;
  readonly help: string;
}

const options = {
  on: { type: 'string', value: 'YYYY-MM-DD', help: 'the day to compute for; today in the site’s zone if left out' },
  format: { type: 'string', value: 'text|json', help: 'how results are printed; due also ics, csv' },
  color: { type: 'string', value: 'auto|always|never', help: 'colour; auto: only on a terminal' },
  'fail-on': {
    type: 'string',
    value: 'LEVEL',
    help: 'exit 1 where a finding is this grave: error (default), warning, information, hint; or never',
  },
  hours: { type: 'string', value: 'H', help: 'hours you have a week; the work is laid out in them' },
  by: { type: 'string', value: 'KEY,...', help: 'group by these; batch if left out' },
  compare: { type: 'string', value: 'KEY,...', help: 'compare the ways of these: method, hand, season' },
  takes: { type: 'string', value: 'N', help: 'how many grafts shall take' },
  confidence: { type: 'string', value: 'P', help: 'how sure, 90% if left out' },
  like: { type: 'string', value: 'BATCH|PAIR', help: 'plan a batch like this one, or of this pair' },
  batches: { type: 'string', value: 'B', help: 'over how many batches on different days; 1 if left out' },
  ways: { type: 'string', value: 'A,B', help: 'two ways to try, such as side-veneer,cleft' },
  points: { type: 'string', value: 'D', help: 'the difference to see, in takes of a hundred; 20 if left out' },
  seed: { type: 'string', value: 'S', help: 'a number for the order: the same number draws the same order again' },
  out: { type: 'string', value: 'FILE', help: 'the file to write, of export the folder; - for standard output' },
  of: { type: 'string', value: 'SET', help: 'the grafts: K26, K26.1..40, K26 except K26.13' },
  size: {
    type: 'string',
    value: 'S',
    help: Object.entries(labelSizes)
      .map(([name, { help }]) => `${name}: ${help}`)
      .join('; '),
  },
  code: { type: 'string', value: 'text|link|none', help: 'what a label’s code says: its text, or an editor’s address' },
  spreadsheet: { type: 'boolean', help: 'CSV that no spreadsheet reads as formulas' },
  map: { type: 'string', value: 'FILE', help: 'what columns are, as JSON: {"Grafted": "date", "Shelf": "none"}' },
  dates: {
    type: 'string',
    value: 'iso|us|eu',
    help: 'how a sheet’s dates are read: year, month or day first; day numbers: 1900|1904',
  },
  rename: { type: 'boolean', help: 'batches that stand in other logs of the folder get new names' },
  check: { type: 'boolean', help: 'change nothing; exit 1 if a file would change' },
  stdio: { type: 'boolean', help: 'accepted and ignored' },
  help: { type: 'boolean', help: 'what there is, or of one command' },
  version: { type: 'boolean', help: 'the version' },
} as const satisfies Record<string, OptionRow>;
type OptionName = keyof typeof options;
const common: readonly OptionName[] = ['on', 'format', 'color', 'help', 'version'];

export interface Asked {
  readonly command: Command;
  readonly paths: readonly string[];
  readonly values: Readonly<Partial<Record<OptionName, string | boolean>>>;
}

/** A call that can't be carried out: exit 2, one sentence on stderr. */
export class UsageError extends Error {}

export function readArguments(args: readonly string[]): Asked | { readonly help: Command | undefined } | 'version' {
  const [first, ...rest] = args;
  if (first === undefined || first === '--help' || first === 'help') return { help: undefined };
  if (first === '--version') return 'version';
  if (!(first in commands))
    throw new UsageError(`There is no command ${first}. Commands: ${Object.keys(commands).join(', ')}.`);
  const command = first as Command;
  const allowed = [...common, ...commands[command].options] as OptionName[];
  const table = Object.fromEntries(allowed.map((name) => [name, { type: options[name].type }]));
  let parsed: { values: Record<string, unknown>; positionals: string[] };
  try {
    parsed = parseArgs({ args: rest, options: table, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(`${plain((error as Error).message)} See graftlog help.`);
  }
  if (parsed.values.help) return { help: command };
  if (parsed.values.version) return 'version';
  return { command, paths: parsed.positionals, values: parsed.values as Asked['values'] };
}

/** Node's own message without its advice on dashes. */
const plain = (message: string) => message.split('. ')[0]?.replace(/\.?$/, '.') ?? message;

/** All commands and options, or those of one command, within 80 columns. */
export function helpText(command?: Command): string {
  const about = command
    ? `graftlog ${command} ${commands[command].takes}`.trim()
    : 'Graft Log keeps a record of grafts in plain text files, one line for each piece of work.';
  const rows = Object.entries(commands).map(
    ([name, row]) => [`graftlog ${name} ${row.takes}`.trim(), row.does] as const,
  );
  const asked = command && new Set<string>([...commands[command].options, ...common]);
  const used = Object.entries(options)
    .filter(([name]) => asked?.has(name) ?? true)
    .map(([name, row]: [string, OptionRow]) => [`--${name}${row.value ? ` ${row.value}` : ''}`, row.help] as const);
  const foot = command
    ? []
    : paragraph(
        'PATH is a file or a folder (every .graft file in it); paths given together are one log; none means this folder; - reads a log from standard input.',
      );
  return `${[
    ...paragraph(about),
    ...(command ? paragraph(`${commands[command].does}.`, 2) : ['', ...hanging(rows)]),
    '',
    'Options',
    ...hanging(used),
    '',
    ...foot,
    'Knives, heaters and sprays: the product’s label and your local rules hold.',
  ].join('\n')}\n`;
}

/** What is to be written at the left, what it does at the right, broken where the page ends. */
function hanging(rows: readonly (readonly [string, string])[]): string[] {
  const wide = Math.max(...rows.map(([left]) => left.length)) + 4;
  return rows.flatMap(([left, right]) =>
    paragraph(right, wide).map((line, i) => (i === 0 ? `  ${left}`.padEnd(wide) + line.trimStart() : line)),
  );
}
