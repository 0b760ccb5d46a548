import { type Severity, severities } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import { countText } from '#server/engine/say.ts';
import { inert } from './text-page.ts';

/** How place and severity are set off, where the page has a way to. */
export interface Paint {
  place(text: string): string;
  severity(text: Severity): string;
}
const plain: Paint = { place: (text) => text, severity: (text) => text };

/** `log.graft:7:19: warning cut-shallow: ...`: what editors and other programs lead from to the place. */
export function findingLine(finding: Finding, line: number, paint = plain): string {
  const { entry, span, severity, code, message } = finding;
  const place = paint.place(`${inert(entry.file)}:${line}:${span.start + 1}`);
  return `${place}: ${paint.severity(severity)} ${code}: ${inert(message)}`;
}

/** `1 error, 2 warnings in 3 files.` */
export function findingsSum(found: readonly Finding[], files: number): string {
  const counts = severities.flatMap((severity) => {
    const count = found.filter((finding) => finding.severity === severity).length;
    return count > 0 ? [countText(count, severity, severity === 'information' ? 'information' : `${severity}s`)] : [];
  });
  const read = countText(files, 'file');
  return counts.length > 0 ? `${counts.join(', ')} in ${read}.` : `Nothing to say about ${read}.`;
}
