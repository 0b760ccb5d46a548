import { severities } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import { countText } from '#server/engine/say.ts';
import { inert, pageWidth, wrap } from '#server/report/text-page.ts';
import { asciiOf, type Page } from './print.ts';

type LineOf = (finding: Finding) => number;

/** What `check` prints: the findings, then how many there are. */
export function findingsText(found: readonly Finding[], lineOf: LineOf, page: Page, files: number): string {
  const lines = found.length === 0 ? [] : (page.read ? underFiles : lineEach)(found, lineOf, page);
  const counts = severities.flatMap((severity) => {
    const count = found.filter((finding) => finding.severity === severity).length;
    return count > 0 ? [countText(count, severity, severity === 'information' ? 'information' : `${severity}s`)] : [];
  });
  const read = countText(files, 'file');
  const sum = counts.length > 0 ? `${counts.join(', ')} in ${read}.` : `Nothing to say about ${read}.`;
  const text = `${[...lines, ...(lines.length > 0 ? [''] : []), sum].join('\n')}\n`;
  return page.wide ? text : asciiOf(text);
}

const tints = ({ color }: Page) => ({
  error: color.red,
  warning: color.yellow,
  information: color.cyan,
  hint: color.gray,
});

/** `log.graft:7:19: warning cut-shallow: ...`: what editors and other programs lead from to the place. */
function lineEach(found: readonly Finding[], lineOf: LineOf, page: Page): string[] {
  const tint = tints(page);
  return found.map((finding) => {
    const place = `${inert(finding.entry.file)}:${lineOf(finding)}:${finding.span.start + 1}`;
    return `${page.color.bold(place)}: ${tint[finding.severity](finding.severity)} ${finding.code}: ${inert(finding.message)}`;
  });
}

/** Under each file its findings: line, severity, sentence and code, the sentence broken for 80 columns. */
function underFiles(found: readonly Finding[], lineOf: LineOf, page: Page): string[] {
  const tint = tints(page);
  const out: string[] = [];
  const severe = Math.max(...found.map(({ severity }) => severity.length));
  const number = Math.max(...found.map((finding) => String(lineOf(finding)).length));
  const indent = 2 + number + 2 + severe + 2;
  let file: string | undefined;
  for (const finding of found) {
    if (finding.entry.file !== file) {
      file = finding.entry.file;
      out.push(...(out.length > 0 ? [''] : []), page.color.bold(inert(file)));
    }
    const { severity, message, code } = finding;
    const start = `  ${String(lineOf(finding)).padStart(number)}  ${tint[severity](severity)}${' '.repeat(severe - severity.length + 2)}`;
    out.push(start + wrap(`${inert(message)} (${code})`, pageWidth, indent).trimStart());
  }
  return out;
}
