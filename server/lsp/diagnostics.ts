import type { Diagnostic } from 'vscode-languageserver';
import type { Severity } from '#grammar/finding.ts';
import type { Finding } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';
import { type DiagnosticOptions, toDiagnostic } from './to-protocol.ts';

/** More than these are not sent, worst first; a list is sent whole with every key (speed: the list is the cost). */
const most = 1000;
const order: readonly Severity[] = ['error', 'warning', 'information', 'hint'];

/** A file's findings as the editor shows them; beyond a thousand the rest is counted in one. */
export function diagnosticsOf(root: Root, found: readonly Finding[], options: DiagnosticOptions): Diagnostic[] {
  if (found.length <= most) return found.map((finding) => toDiagnostic(root, finding, options));
  const worst = [...found].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity)).slice(0, most - 1);
  const shown = worst.map((finding) => toDiagnostic(root, finding, options));
  const first = shown[0];
  const rest = found.length - shown.length;
  if (first)
    shown.push({
      ...first,
      range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
      message: `${rest} more findings in this file are not shown; these come first.`,
    });
  return shown;
}
