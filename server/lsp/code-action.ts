import { type CodeAction, CodeActionKind, type Range } from 'vscode-languageserver';
import type { FileView } from './feature.ts';
import { type DiagnosticOptions, lineOf, toDiagnostic, toEdits } from './to-protocol.ts';

export const fixAllKind = `${CodeActionKind.SourceFixAll}.graft`;

/** Mends for the findings in a range; `source.fixAll.graft` for those that can't change what a line means. */
export function codeAction(
  view: FileView,
  range: Range,
  only: readonly string[] | undefined,
  options: DiagnosticOptions,
): CodeAction[] {
  const wants = (kind: string) => !only || only.some((asked) => kind === asked || kind.startsWith(`${asked}.`));
  const { root, file } = view;
  const found = root.answers.findingsIn(file);
  const actions: CodeAction[] = [];
  if (wants(CodeActionKind.QuickFix))
    for (const finding of found) {
      const line = lineOf(root, finding.entry);
      if (line < range.start.line || line > range.end.line) continue;
      for (const [i, mend] of (finding.mends ?? []).entries())
        actions.push({
          title: mend.title,
          kind: CodeActionKind.QuickFix,
          diagnostics: [toDiagnostic(root, finding, options)],
          isPreferred: i === 0 && (finding.mends?.length === 1 || mend.safe === true),
          edit: { changes: toEdits(root, finding, mend) },
        });
    }
  if (only?.some((asked) => fixAllKind.startsWith(asked))) {
    const edits = found.flatMap((finding) => {
      const mend = finding.mends?.find((one) => one.safe);
      return mend ? (toEdits(root, finding, mend)[view.uri] ?? []) : [];
    });
    if (edits.length > 0)
      actions.push({
        title: 'Mend spelling and layout of values',
        kind: fixAllKind,
        edit: { changes: { [view.uri]: edits } },
      });
  }
  return actions;
}
