import { type Severity, severities } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import { countText } from '#server/engine/say.ts';
import { inert } from '#server/report/text-page.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';
import { asciiOf, type Page } from './print.ts';

/** Every finding, by file and line. On a terminal grouped by file; piped, a line each for other programs. */
export async function check(asked: Asked): Promise<number> {
  const level = failLevel(asked.values['fail-on']);
  const { answers, page, json, print } = await openLog(asked);
  const found = answers.findings();
  const lineOf = (finding: Finding) => (answers.log.document(finding.entry.file)?.lineOf(finding.entry) ?? 0) + 1;
  if (json) {
    const findings = found.map((finding) => ({
      file: finding.entry.file,
      line: lineOf(finding),
      column: finding.span.start + 1,
      endLine: lineOf(finding),
      endColumn: finding.span.end + 1,
      severity: finding.severity,
      code: finding.code,
      message: finding.message,
    }));
    print(`${JSON.stringify({ findings }, null, 2)}\n`);
  } else print(textOf(found, lineOf, page, answers.log.fileNames.length));
  const worst = found.some(({ severity }) => severities.indexOf(severity) <= level);
  return worst ? 1 : 0;
}

function failLevel(asked: string | boolean | undefined): number {
  if (asked === 'never') return -1;
  const at = severities.indexOf((asked ?? 'error') as Severity);
  if (at < 0) throw new UsageError(`--fail-on is one of ${severities.join(', ')}, never.`);
  return at;
}

function textOf(found: readonly Finding[], lineOf: (finding: Finding) => number, page: Page, files: number): string {
  const { color } = page;
  const tint = { error: color.red, warning: color.yellow, information: color.cyan, hint: color.gray };
  const lines = found.map((finding) => {
    const place = `${inert(finding.entry.file)}:${lineOf(finding)}:${finding.span.start + 1}`;
    return `${color.bold(place)}: ${tint[finding.severity](finding.severity)} ${finding.code}: ${inert(finding.message)}`;
  });
  const counts = severities.flatMap((severity) => {
    const count = found.filter((finding) => finding.severity === severity).length;
    return count > 0 ? [countText(count, severity, severity === 'information' ? 'information' : `${severity}s`)] : [];
  });
  const read = countText(files, 'file');
  const sum = counts.length > 0 ? `${counts.join(', ')} in ${read}.` : `Nothing to say about ${read}.`;
  const text = `${[...lines, ...(lines.length > 0 ? [''] : []), sum].join('\n')}\n`;
  return page.wide ? text : asciiOf(text);
}
