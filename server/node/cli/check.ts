import { type Severity, severities } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import { lineNumber } from '#server/export/lines.ts';
import { findingsText } from './findings-text.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';

/** Every finding, by file and line. On a terminal under their files; for other programs a line each. */
export async function check(asked: Asked): Promise<number> {
  const level = failLevel(asked.values['fail-on']);
  const { answers, page, json, print } = await openLog(asked);
  const found = answers.findings();
  const lineOf = ({ entry }: Finding) => lineNumber(answers.log, entry);
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
  } else print(findingsText(found, lineOf, page, answers.log.fileNames.length));
  const worst = found.some(({ severity }) => severities.indexOf(severity) <= level);
  return worst ? 1 : 0;
}

function failLevel(asked: string | boolean | undefined): number {
  if (asked === 'never') return -1;
  const at = severities.indexOf((asked ?? 'error') as Severity);
  if (at < 0) throw new UsageError(`--fail-on is one of ${severities.join(', ')}, never.`);
  return at;
}
