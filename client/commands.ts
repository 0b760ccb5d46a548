import {
  commands,
  type Disposable,
  type ExtensionContext,
  Position,
  Range,
  Selection,
  Uri,
  WorkspaceEdit,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  AttentionRequest,
  type AttentionResult,
  GoToGraftRequest,
  type GoToGraftResult,
  type WorkRow,
  WriteLineRequest,
  type WriteLineResult,
} from '#server/lsp/protocol.ts';
import { showBenchSheet } from './bench-sheet.ts';
import { pageUri } from './pages.ts';
import { startLog } from './start-log.ts';
import type { WorkListView } from './work-list.ts';

export function registerCommands(
  context: ExtensionContext,
  client: BaseLanguageClient,
  work: WorkListView,
): Disposable[] {
  const attention = (direction: 'next' | 'previous') => () => goToAttention(client, direction);
  return [
    commands.registerCommand('graftlog.nextAttention', attention('next')),
    commands.registerCommand('graftlog.previousAttention', attention('previous')),
    commands.registerCommand('graftlog.goToGraft', (text?: string) => goToGraft(client, text)),
    commands.registerCommand('graftlog.startLog', () => startLog(context)),
    commands.registerCommand('graftlog.openPractice', () => window.showTextDocument(pageUri('practice.graft'))),
    commands.registerCommand('graftlog.openPage', (name: string) =>
      window.showTextDocument(pageUri(name), { preview: true }),
    ),
    commands.registerCommand('graftlog.showWork', () => commands.executeCommand('graftlog.work.focus')),
    commands.registerCommand('graftlog.showHistory', (uri: string, line: number, character: number) =>
      commands.executeCommand(
        'editor.action.goToLocations',
        Uri.parse(uri),
        new Position(line, character),
        [],
        'goto',
        '',
      ),
    ),
    commands.registerCommand('graftlog.benchSheet', () => showBenchSheet(client)),
    commands.registerCommand('graftlog.refreshWork', () => work.refresh()),
    commands.registerCommand('graftlog.groupByWhen', () => work.groupBy('when')),
    commands.registerCommand('graftlog.groupByPlace', () => work.groupBy('place')),
    commands.registerCommand('graftlog.groupByBatch', () => work.groupBy('batch')),
    commands.registerCommand('graftlog.groupByHand', () => work.groupBy('hand')),
    commands.registerCommand('graftlog.writeInLog', (row?: WorkRow) => writeInLog(client, row)),
  ];
}

async function goToAttention(client: BaseLanguageClient, direction: 'next' | 'previous'): Promise<void> {
  const editor = window.activeTextEditor;
  if (!editor) return;
  const found: AttentionResult = await client.sendRequest(AttentionRequest, {
    uri: editor.document.uri.toString(),
    line: editor.selection.active.line,
    direction,
  });
  if (found) await show(found);
  else void window.setStatusBarMessage('Graft Log: nothing needs attention.', 4000);
}

async function goToGraft(client: BaseLanguageClient, given?: string): Promise<void> {
  const text =
    given ??
    (await window.showInputBox({ title: 'Go to graft', prompt: 'A number as on the label', placeHolder: 'K26.12' }));
  if (!text) return;
  const found: GoToGraftResult = await client.sendRequest(GoToGraftRequest, { text });
  if (found) await show(found);
  else void window.showInformationMessage(`No graft ${text.trim().split(/\s/)[0]} in this log.`);
}

async function show(at: { readonly uri: string; readonly line: number; readonly character: number }): Promise<void> {
  const position = new Position(at.line, at.character);
  const editor = await window.showTextDocument(Uri.parse(at.uri));
  editor.selection = new Selection(position, position);
  editor.revealRange(new Range(position, position));
}

/** Asks which grafts, then writes the line under today's day line; plain undo takes it back. */
async function writeInLog(client: BaseLanguageClient, row?: WorkRow): Promise<void> {
  if (!row?.write) return;
  const text = await window.showInputBox({
    title: 'Write it in the log',
    prompt: 'Which grafts, and how far? Change the line as it was done.',
    value: row.write,
    valueSelection: [row.write.indexOf(row.grafts), row.write.indexOf(row.grafts) + row.grafts.length],
  });
  if (!text) return;
  const uri = Uri.parse(row.at.uri);
  const place: WriteLineResult = await client.sendRequest(WriteLineRequest, { uri: row.at.uri, text });
  if (!place) return;
  const edit = new WorkspaceEdit();
  edit.insert(uri, new Position(place.line, 0), place.text);
  const document = await workspace.openTextDocument(uri);
  if (await workspace.applyEdit(edit)) await window.showTextDocument(document, { preserveFocus: true });
}
