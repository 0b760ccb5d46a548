import { formatText } from '#grammar/format.ts';
import { longestLine, readLine } from '#grammar/line.ts';
import type { Day, Intervals } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { intervalsText, normalize } from '#grammar/values/intervals.ts';
import type { Batch, BatchRow } from './batches.ts';
import { quoted } from './cells.ts';
import type { Visit } from './model.ts';
import { remarksOf } from './remarks.ts';

/** What stands on top of the log, a comment each. */
export interface Head {
  readonly file: string;
  readonly comments: readonly string[];
  /** Places and trees that other logs declare. */
  readonly known: readonly { readonly name: string }[];
}

/** Numbers of a set in one line, in characters; more go on the next. */
const widestSet = 60;
const widestComment = 110;
const verbs = ['graft', 'swell', 'free', 'untie', 'sever', 'take', 'fail', 'sell'] as const;
type WorkVerb = (typeof verbs)[number];

/** One piece of work in the log; those that differ in their numbers only are one line. */
interface Work {
  readonly day: Day;
  readonly verb: WorkVerb;
  readonly batch: number;
  readonly name: string;
  readonly numbers?: Intervals;
  readonly count?: number;
  readonly behind: string;
  readonly below: readonly string[];
}

/** The log: comments, declarations, then day by day what was done, laid out as `format` does. */
export function writeLog({ file, comments, known }: Head, batches: readonly Batch[]): string {
  if (batches.length === 0) return '';
  const works = batches.flatMap((batch, i) => batch.rows.flatMap((row) => worksOf(batch, row, i)));
  const lines = [
    `# imported from ${file}`,
    ...comments.flatMap((comment) => commentLines('', comment)),
    '',
    ...declarations(batches, new Set(known.map(({ name }) => name))),
  ];
  let day: Day | undefined;
  for (const work of merged(works)) {
    if (work.day !== day) {
      if (day === undefined) lines.push('');
      day = work.day;
      lines.push(isoDay(day));
    }
    for (const target of targetsOf(work))
      lines.push([`${work.verb}  ${target}`, work.behind].filter(Boolean).join('  '));
    lines.push(...work.below);
  }
  return formatText(`${lines.join('\n')}\n`);
}

function worksOf({ name }: Batch, { made, numbers, taxa, facts, remarks }: BatchRow, batch: number): Work[] {
  const whole = numbers ? { numbers } : {};
  const { onLine, below } = remarksOf(remarks);
  const words = [taxa ?? '', ...facts.map(({ text }) => text)].filter(Boolean);
  const remark = remarkBehind(`graft  ${name}.1`, words, onLine);
  const target = numbers ? `${name}.${intervalsText(numbers)}` : name;
  const graft: Work = {
    ...whole,
    ...(numbers || made.count === undefined ? {} : { count: made.count }),
    day: made.day,
    verb: 'graft',
    batch,
    name,
    behind: [...words, remark].filter(Boolean).join('  '),
    below: [...(remark || !onLine ? [] : [onLine]), ...below].flatMap((remark) => commentLines(`${target}: `, remark)),
  };
  const visits = made.events.map(
    ({ verb, day, count, behind: said }: Visit): Work => ({
      ...whole,
      ...(count === undefined ? {} : { count }),
      day,
      verb,
      batch,
      name,
      behind: said ?? '',
      below: [],
    }),
  );
  return [graft, ...visits];
}

/** A remark in quotes; empty where it would be read as something else there, such as a cultivar behind its kind. */
function remarkBehind(line: string, words: readonly string[], remark: string): string {
  if (remark === '') return '';
  const written = quoted(remark);
  const whole = [line, ...words, written].join('  ');
  const { problems, statement } = readLine(whole);
  // room for the set and the batch's name
  const fits = whole.length <= longestLine - 200 && problems.length === 0 && statement?.remark?.text === remark;
  return fits ? written : '';
}

/** In the order they stand in the log; whole sets with the same to say are one. */
function merged(works: readonly Work[]): Work[] {
  const byLine = new Map<string, Work[]>();
  for (const work of works) {
    const own = work.count !== undefined || work.below.length > 0 || !work.numbers;
    const key = own ? `${byLine.size} alone` : [work.day, work.verb, work.batch, work.behind].join('\n');
    const group = byLine.get(key);
    if (group) group.push(work);
    else byLine.set(key, [work]);
  }
  const joined = [...byLine.values()].map((group): Work => {
    const [first] = group as [Work];
    if (group.length === 1) return first;
    return { ...first, numbers: normalize(group.flatMap(({ numbers }) => numbers ?? [])) };
  });
  const place = ({ verb }: Work) => verbs.indexOf(verb);
  const number = ({ numbers }: Work) => numbers?.[0] ?? 0;
  return joined.sort((a, b) => a.day - b.day || a.batch - b.batch || place(a) - place(b) || number(a) - number(b));
}

/** `K26.1..12,14`, `K26 x40`: several where the numbers are too many for a line. */
function targetsOf({ name, numbers, count }: Work): string[] {
  const counted = count === undefined ? '' : ` x${count}`;
  if (!numbers) return [`${name}${counted}`];
  const sets: string[] = [];
  for (const part of intervalsText(numbers).split(',')) {
    const last = sets.length - 1;
    const joined = last < 0 ? undefined : `${sets[last]},${part}`;
    if (joined !== undefined && (joined.length <= widestSet || counted)) sets[last] = joined;
    else sets.push(part);
  }
  return sets.map((set) => `${name}.${set}${counted}`);
}

function declarations(batches: readonly Batch[], known: ReadonlySet<string>): string[] {
  const named = (keys: readonly string[]) =>
    [
      ...new Set(
        batches.flatMap((batch) =>
          [...batch.facts, ...batch.rows.flatMap((row) => row.facts)]
            .filter(({ key }) => keys.includes(key))
            .flatMap(({ text }) => text.slice(text.indexOf(' ') + 1).split(',')),
        ),
      ),
    ].filter((name) => !known.has(name));
  return [
    ...named(['in']).map((place) => `place  ${place}`),
    ...named(['onto', 'from']).map((tree) => `tree  ${tree}`),
    ...batches.flatMap(({ name, taxa, facts, remarks }) => {
      const words = [taxa ?? '', ...facts.map(({ text }) => text)].filter(Boolean);
      const all = remarks.join('; ');
      const remark = remarkBehind(`batch  ${name}`, words, all);
      const line = [`batch  ${name}`, ...words, remark].filter(Boolean).join('  ');
      return remark || !all ? [line] : [line, ...commentLines(`${name}: `, all)];
    }),
  ];
}

/** A text as comments, broken at blanks. */
function commentLines(lead: string, text: string): string[] {
  const lines: string[] = [];
  let line = `# ${lead}`;
  for (const word of text.split(' ').flatMap(pieces)) {
    const joined = /[ ]$/.test(line) ? line + word : `${line} ${word}`;
    if (joined.length <= widestComment || line === '# ') line = joined;
    else {
      lines.push(line);
      line = `#   ${word}`;
    }
  }
  return [...lines, line];
}

/** A run without a blank that would be longer than a line may be. */
const pieces = (word: string): string[] => (word.length <= 1000 ? [word] : (word.match(/[\s\S]{1,1000}/gu) ?? []));
