import { InputBoxValidationSeverity, Position, Range, Selection, Uri, WorkspaceEdit, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type WorkRow, type WriteLineParams, WriteLineRequest, type WriteLineResult } from '#server/lsp/protocol.ts';
import type { WorkListView } from './work-list.ts';

/**
 * Asks what was found, where that is the question, and which grafts, then writes the line under the day's day line: of the
 * row that was pointed at, of the one the keyboard stands on in the list, else of one that is picked. Plain undo takes it
 * back.
 */
export async function writeInLog(
  client: BaseLanguageClient,
  work: WorkListView,
  given?: WorkRow | 'selected',
): Promise<void> {
  const row = (given === 'selected' ? work.selected : given) ?? (await pick(work));
  if (!row) return;
  const { uri } = row.at;
  const title = `Write it in the log: ${row.batch}, ${row.job}`;
  const line = await whatWasSeen(row, title);
  if (!line) return;
  const start = line.indexOf(row.grafts);
  const text = await window.showInputBox({
    title,
    prompt: 'Which grafts, and how far? Change the line to what was done.',
    value: line,
    valueSelection: [start, start + row.grafts.length],
    ignoreFocusOut: true,
    validateInput: async (typed) => {
      const found = await ask(client, { uri, text: typed });
      return found?.problem ? { message: found.problem, severity: InputBoxValidationSeverity.Error } : undefined;
    },
  });
  if (!text?.trim()) return;
  if (!(await write(client, { uri, text })))
    void window.showWarningMessage(`The log changed meanwhile, and nothing was written. The line was: ${text}`);
  await work.refresh();
}

/** Where the line depends on what was found, that is asked first. */
async function whatWasSeen({ write: lines, grafts }: WorkRow, title: string): Promise<string | undefined> {
  if (lines.length < 2) return lines[0]?.text;
  const items = lines.map(({ seen, text }) => ({ label: seen, description: text }));
  const options = { title, placeHolder: `What was found of ${grafts}?`, ignoreFocusOut: true };
  return (await window.showQuickPick(items, options))?.description;
}

const ask = (client: BaseLanguageClient, params: WriteLineParams): Promise<WriteLineResult> =>
  client.sendRequest(WriteLineRequest, params);

/** The place is the server's for the text as it was asked; where the text has changed since, it is asked once more. */
async function write(client: BaseLanguageClient, params: WriteLineParams): Promise<boolean> {
  for (let tries = 0; tries < 3; tries++) {
    const target = await ask(client, params);
    if (!target) return false;
    const uri = Uri.parse(target.uri);
    const editor = await window.showTextDocument(uri, { preview: false });
    const place = await ask(client, params);
    if (!place || place.uri !== target.uri || place.version !== editor.document.version) continue;
    const edit = new WorkspaceEdit();
    edit.insert(uri, new Position(place.line, 0), place.text);
    if (!(await workspace.applyEdit(edit))) continue;
    const end = new Position(place.written, editor.document.lineAt(place.written).text.length);
    editor.selection = new Selection(end, end);
    editor.revealRange(new Range(end, end));
    return true;
  }
  return false;
}

async function pick(work: WorkListView): Promise<WorkRow | undefined> {
  const rows = work.rows.filter((row) => row.state !== 'later');
  if (rows.length === 0) {
    void window.showInformationMessage('No work waits now.');
    return undefined;
  }
  const items = rows.map((row) => ({
    label: `${row.batch} ${row.job}`,
    description: `${row.when} · ${row.grafts}`,
    row,
  }));
  return (await window.showQuickPick(items, { title: 'Write it in the log', placeHolder: 'Which work was done?' }))
    ?.row;
}
