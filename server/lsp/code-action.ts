import { type CodeAction, CodeActionKind, type Range } from 'vscode-languageserver';
import type { FileView } from './feature.ts';
import { type DiagnosticOptions, lineOf, toDiagnostic, toEdits, workspaceEdit } from './to-protocol.ts';

export const fixAllKind = `${CodeActionKind.SourceFixAll}.graft`;

/**
 * Mends for the findings in a range; `source.fixAll.graft` for those that can't change what a line means.
 * @param versions the client takes edits that name the version of their text, and drops those of an older one
 */
export function codeAction(
  view: FileView,
  range: Range,
  only: readonly string[] | undefined,
  options: DiagnosticOptions,
  versions: boolean,
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
          edit: workspaceEdit(root, toEdits(root, finding, mend), versions),
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
        edit: workspaceEdit(root, { [view.uri]: edits }, versions),
      });
  }
  return actions;
}
