import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
  type Location,
  type Range,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import type { Mend, Severity, Span } from '#grammar/finding.ts';
import type { Entry, Finding, LogEdit, LogMend } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';

/** The one place where the engine's lines and spans become the protocol's ranges. */
export function toRange(root: Root, entry: Entry, span: Span): Range {
  const line = lineOf(root, entry);
  return { start: { line, character: span.start }, end: { line, character: span.end } };
}

export function lineOf(root: Root, entry: Entry): number {
  return Math.max(0, root.log.document(entry.file)?.lineOf(entry) ?? 0);
}

export function toLocation(root: Root, entry: Entry, span: Span): Location {
  return { uri: root.uriOf(entry.file), range: toRange(root, entry, span) };
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

export interface DiagnosticOptions {
  readonly related: boolean;
  /** Address of a code's page, where the client can open it. */
  readonly pageOf?: (code: Finding['code']) => string;
}

export function toDiagnostic(root: Root, finding: Finding, options: DiagnosticOptions): Diagnostic {
  const related = options.related
    ? finding.related
        ?.filter(({ entry }) => root.log.document(entry.file))
        .map(
          ({ entry, span, message }): DiagnosticRelatedInformation => ({
            location: toLocation(root, entry, span),
            message,
          }),
        )
    : undefined;
  return {
    range: toRange(root, finding.entry, finding.span),
    severity: severities[finding.severity],
    code: finding.code,
    source: 'graft-log',
    message: finding.message,
    ...(options.pageOf ? { codeDescription: { href: options.pageOf(finding.code) } } : {}),
    ...(related && related.length > 0 ? { relatedInformation: related } : {}),
  };
}

/** A mend as text edits by file. A new line is put in with the line end the file's line has. */
export function toEdits(root: Root, finding: Finding, mend: Mend | LogMend): Record<string, TextEdit[]> {
  const changes: Record<string, TextEdit[]> = {};
  const put = (entry: Entry, edit: TextEdit) => {
    const uri = root.uriOf(entry.file);
    changes[uri] = [...(changes[uri] ?? []), edit];
  };
  for (const edit of mend.edits) {
    if (!('entry' in edit)) put(finding.entry, { range: toRange(root, finding.entry, edit.span), newText: edit.text });
    else put(edit.entry, logEdit(root, edit));
  }
  return changes;
}

/** Edits by file for an editor: of the text as it stands, where it can be told which that is. */
export function workspaceEdit(root: Root, changes: Record<string, TextEdit[]>, versions: boolean): WorkspaceEdit {
  if (!versions) return { changes };
  return {
    documentChanges: Object.entries(changes).map(([uri, edits]) => ({
      textDocument: { uri, version: root.open.get(root.fileOf(uri)) ?? null },
      edits,
    })),
  };
}

/** Edits in any of a log's lines, by file. */
export function logEdits(root: Root, edits: readonly LogEdit[]): Record<string, TextEdit[]> {
  const changes: Record<string, TextEdit[]> = {};
  for (const edit of edits) {
    const uri = root.uriOf(edit.entry.file);
    changes[uri] = [...(changes[uri] ?? []), logEdit(root, edit)];
  }
  return changes;
}

function logEdit(root: Root, edit: LogEdit): TextEdit {
  const line = lineOf(root, edit.entry);
  const { length } = edit.entry.line.text;
  if (edit.where === 'in')
    return { range: toRange(root, edit.entry, edit.span ?? { start: 0, end: length }), newText: edit.text };
  if (edit.where === 'above') return { range: at(line, 0), newText: `${edit.text}\n` };
  return { range: at(line, length), newText: `\n${edit.text}` };
}

const at = (line: number, character: number): Range => ({ start: { line, character }, end: { line, character } });
