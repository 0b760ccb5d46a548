import { commands, type Disposable, type Location, Position, Uri, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { AttentionRequest, type AttentionResult, pageScheme, type WorkRow } from '#server/lsp/protocol.ts';
import { compare, planSeason } from './figures.ts';
import { filterWork } from './filter-work.ts';
import { goToGraft, showPlace } from './go-to-graft.ts';
import { pageUri } from './pages.ts';
import { showBenchSheet, showReport } from './printed-pages.ts';
import { startLog } from './start-log.ts';
import type { WorkListView } from './work-list.ts';
import { writeInLog } from './write-in-log.ts';

export function registerCommands(client: BaseLanguageClient, work: WorkListView): Disposable[] {
  const attention = (direction: 'next' | 'previous') => () => goToAttention(client, work, direction);
  return [
    commands.registerCommand('graftlog.nextAttention', attention('next')),
    commands.registerCommand('graftlog.previousAttention', attention('previous')),
    commands.registerCommand('graftlog.goToGraft', (text?: string) => goToGraft(client, text)),
    commands.registerCommand('graftlog.startLog', startLog),
    commands.registerCommand('graftlog.openPractice', () => window.showTextDocument(pageUri('practice.graft'))),
    commands.registerCommand('graftlog.showWork', () => commands.executeCommand('graftlog.work.focus')),
    commands.registerCommand('graftlog.showHistory', showHistory),
    commands.registerCommand('graftlog.restart', () => restart(client)),
    commands.registerCommand('graftlog.compare', () => compare(client)),
    commands.registerCommand('graftlog.planSeason', () => planSeason(client)),
    commands.registerCommand('graftlog.benchSheet', () => showBenchSheet(client)),
    commands.registerCommand('graftlog.report', () => showReport(client)),
    commands.registerCommand('graftlog.refreshWork', () => work.refresh({ again: true })),
    commands.registerCommand('graftlog.filterWork', () => filterWork(work)),
    commands.registerCommand('graftlog.clearWorkFilter', () => work.filterBy('')),
    commands.registerCommand('graftlog.groupByWhen', () => work.groupBy('when')),
    commands.registerCommand('graftlog.groupByPlace', () => work.groupBy('place')),
    commands.registerCommand('graftlog.groupByBatch', () => work.groupBy('batch')),
    commands.registerCommand('graftlog.groupByHand', () => work.groupBy('hand')),
    commands.registerCommand('graftlog.writeInLog', (row?: WorkRow | 'selected') => writeInLog(client, work, row)),
  ];
}

async function restart(client: BaseLanguageClient): Promise<void> {
  if (client.isRunning()) await client.stop();
  await client.start();
}

/** From the caret's line; where no log is in front, from the work list: its first row. */
async function goToAttention(
  client: BaseLanguageClient,
  work: WorkListView,
  direction: 'next' | 'previous',
): Promise<void> {
  const editor = window.activeTextEditor;
  if (editor?.document.languageId !== 'graft' || editor.document.uri.scheme === pageScheme) {
    const first = work.rows[0];
    if (first) return showPlace({ ...first.at, character: 0 });
    return void window.setStatusBarMessage(nothing, 4000);
  }
  const found: AttentionResult = await client.sendRequest(AttentionRequest, {
    uri: editor.document.uri.toString(),
    line: editor.selection.active.line,
    direction,
  });
  if (found) await showPlace(found);
  else void window.setStatusBarMessage(nothing, 4000);
}

const nothing = 'Graft Log: nothing needs attention.';

/** Every line that names what stands there, beside the line: of a batch what it went through. */
async function showHistory(uri: string, line: number, character: number): Promise<void> {
  const [at, position] = [Uri.parse(uri), new Position(line, character)];
  const lines = await commands.executeCommand<Location[]>('vscode.executeReferenceProvider', at, position);
  await commands.executeCommand('editor.action.goToLocations', at, position, lines, 'peek', 'No line names it yet.');
}
