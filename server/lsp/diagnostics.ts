import type { Diagnostic } from 'vscode-languageserver';
import type { Severity } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';
import { type DiagnosticOptions, toDiagnostic } from './to-protocol.ts';

/** More than these are not sent, worst first; a list is sent whole with every key (speed: the list is the cost). */
const most = 1000;
const order: readonly Severity[] = ['error', 'warning', 'information', 'hint'];

/** A finding as the editor shows it. */
export interface Shown {
  readonly finding: Finding;
  readonly diagnostic: Diagnostic;
}

/** A file's findings as they are sent, and how many more there are. */
export interface ShownFile {
  readonly shown: readonly Shown[];
  readonly rest: number;
}

export const show = (root: Root, finding: Finding, options: DiagnosticOptions): Shown => ({
  finding,
  diagnostic: toDiagnostic(root, finding, options),
});

export function showFile(root: Root, found: readonly Finding[], options: DiagnosticOptions): ShownFile {
  const all = found.length <= most;
  const worst = all
    ? found
    : [...found].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity)).slice(0, most - 1);
  return { shown: worst.map((finding) => show(root, finding, options)), rest: found.length - worst.length };
}

/** The list for the editor; what is beyond a thousand is counted in one. */
export function diagnosticsOf({ shown, rest }: ShownFile): Diagnostic[] {
  const list = shown.map(({ diagnostic }) => diagnostic);
  const [first] = list;
  if (rest > 0 && first)
    list.push({
      ...first,
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
      message: `${rest} more findings in this file are not shown; these come first.`,
    });
  return list;
}
