import type { Severity } from '#grammar/finding.ts';
import { greatest } from '#grammar/values/extremes.ts';
import type { Finding } from '#server/engine/model.ts';
import { findingLine, findingsSum } from '#server/report/finding-line.ts';
import { inert, pageWidth, wrap } from '#server/report/text-page.ts';
import { asciiOf, type Page } from './print.ts';

type LineOf = (finding: Finding) => number;

/** What `check` prints: the findings, then how many there are. */
export function findingsText(found: readonly Finding[], lineOf: LineOf, page: Page, files: number): string {
  const lines = found.length === 0 ? [] : (page.read ? underFiles : lineEach)(found, lineOf, page);
  const sum = findingsSum(found, files);
  const text = `${[...lines, ...(lines.length > 0 ? [''] : []), sum].join('\n')}\n`;
  return page.wide ? text : asciiOf(text);
}

const tints = ({ color }: Page) => ({
  error: color.red,
  warning: color.yellow,
  information: color.cyan,
  hint: color.gray,
});

/** What editors and other programs lead from to the place. */
function lineEach(found: readonly Finding[], lineOf: LineOf, page: Page): string[] {
  const tint = tints(page);
  const paint = { place: page.color.bold, severity: (text: Severity) => tint[text](text) };
  return found.map((finding) => findingLine(finding, lineOf(finding), paint));
}

/** Under each file its findings: line, severity, sentence and code, the sentence broken for 80 columns. */
function underFiles(found: readonly Finding[], lineOf: LineOf, page: Page): string[] {
  const tint = tints(page);
  const out: string[] = [];
  const severe = greatest(found.map(({ severity }) => severity.length));
  const number = greatest(found.map((finding) => String(lineOf(finding)).length));
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
