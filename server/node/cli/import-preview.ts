import { severities } from '#grammar/finding.ts';
import { least } from '#grammar/values/extremes.ts';
import type { Finding } from '#server/engine/model.ts';
import { countText } from '#server/engine/say.ts';
import type { Imported } from '#server/import/model.ts';
import { columns, inert, wrap } from '#server/report/text-page.ts';
import type { Page } from './print.ts';

export interface OutPaths {
  readonly log: string;
  /** The side file. */
  readonly left: string;
}

/** Lines of the new log, and rows left, that the preview shows. */
const shown = { log: 10, left: 10 };
const width = 100;

export interface PreviewOf {
  readonly file: string;
  readonly encoding?: string;
  readonly page: Page;
  /** Absent: nothing will be written. */
  readonly out?: OutPaths;
}

/** What the import makes of the sheet, before anything is written. */
export function textPreview(done: Imported, findings: readonly Finding[], of: PreviewOf): string {
  const { color } = of.page;
  const { rows, taken, left, grafts, took, lost } = done.counts;
  const log = done.log.split('\n').slice(0, -1);
  const head = `${of.file}: ${countText(rows, 'row')}, ${countText(done.columns.length, 'column')}`;
  const sections: string[][] = [
    [color.bold(inert(of.encoding ? `${head}, read as ${of.encoding}` : head))],
    [color.bold('Columns'), ...columns(done.columns.map(({ header, as }) => [`  ${inert(header)}`, inert(as)]))],
  ];
  if (log.length > 0)
    sections.push([
      color.bold(log.length > shown.log ? `The log, its first ${shown.log} lines of ${log.length}` : 'The log'),
      ...log.slice(0, shown.log).map((line) => `  ${short(inert(line), 120)}`),
    ]);
  sections.push([
    color.bold(`${countText(taken, 'row')} taken, ${left} left`),
    `  ${countText(grafts, 'graft')}: ${took} taken, ${lost} lost, ${Math.max(0, grafts - took - lost)} to judge`,
    ...done.left.slice(0, shown.left).map(({ row, why }) => inert(`  row ${row}: ${why}`)),
    ...(left > shown.left ? [`  and ${left - shown.left} more`] : []),
  ]);
  if (done.notes.length > 0)
    sections.push([
      color.bold('Read otherwise'),
      ...done.notes.map((note) => wrap(inert(note), width, 4).replace(/^ {4}/, '  - ')),
    ]);
  if (log.length > 0) sections.push([color.bold('What Graft Log says of it'), ...findingLines(findings)]);
  sections.push([of.out ? writes(of.out, left) : 'Nothing is written: --out names the new log.']);
  return `${sections.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function writes({ log, left }: OutPaths, count: number): string {
  return inert(
    count > 0 ? `The log goes to ${log}, ${countText(count, 'row')} left to ${left}.` : `The log goes to ${log}.`,
  );
}

/** By code, the gravest first, each with its first line. */
function findingLines(findings: readonly Finding[]): string[] {
  if (findings.length === 0) return ['  nothing'];
  const byCode = new Map<string, Finding[]>();
  for (const finding of findings) byCode.set(finding.code, [...(byCode.get(finding.code) ?? []), finding]);
  return columns(
    [...byCode.values()]
      .sort((a, b) => rankOf(a) - rankOf(b))
      .map((group) => [
        `  ${group.length}`,
        group[0]?.severity ?? '',
        group[0]?.code ?? '',
        inert(short(group[0]?.message ?? '', 80)),
      ]),
  );
}

const rankOf = (group: readonly Finding[]) => least(group.map(({ severity }) => severities.indexOf(severity)));
const short = (text: string, most: number) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);

/** The same for other programs. */
export function jsonPreview(done: Imported, findings: readonly Finding[]): string {
  const counts: Record<string, number> = {};
  for (const { code } of findings) counts[code] = (counts[code] ?? 0) + 1;
  const left = done.left.map(({ row, why }) => ({ row, why }));
  const { columns: taken, counts: rows, notes, log } = done;
  return `${JSON.stringify({ columns: taken, counts: rows, left, notes, findings: counts, log }, null, 2)}\n`;
}
