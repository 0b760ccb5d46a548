import { window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type FigureChoices,
  FigureChoicesRequest,
  type FigureChoicesResult,
  type FiguresParams,
} from '#server/lsp/protocol.ts';
import { figuresUri } from './pages.ts';

/** Asks what is to be set against each other and shows the page of `graftlog stats --compare` in a tab of its own. */
export async function compare(client: BaseLanguageClient): Promise<void> {
  const choices = await choicesOf(client);
  if (!choices) return;
  if (choices.keys.length === 0) {
    void window.showInformationMessage('Nothing to compare yet: of nothing are there two ways in this log.');
    return;
  }
  const chosen = await window.showQuickPick(
    choices.keys.map(({ key, noun, ways }) => ({ label: noun, description: ways, key })),
    {
      title: 'Compare',
      placeHolder: 'What shall be compared? Few at a time: among many, luck makes one.',
      canPickMany: true,
      matchOnDescription: true,
    },
  );
  if (!chosen || chosen.length === 0) return;
  await show(`Compare ${chosen.map(({ label }) => label).join(', ')}`, {
    uri: choices.uri,
    asked: { kind: 'compare', keys: chosen.map(({ key }) => key) },
  });
}

/** Asks how many shall take and like what, and shows the page of `graftlog plan` in a tab of its own. */
export async function planSeason(client: BaseLanguageClient): Promise<void> {
  const choices = await choicesOf(client);
  if (!choices) return;
  const title = 'Plan next season';
  const takes = await window.showInputBox({
    title,
    prompt: 'How many shall take?',
    value: '50',
    validateInput: (text) => (wholeOf(text, 10_000) === undefined ? 'A whole number, 1 to 10000.' : undefined),
  });
  if (!takes) return;
  const all = { label: 'All pairs together', description: 'the whole record', like: undefined };
  const like = await window.showQuickPick(
    [
      all,
      ...choices.like.map(({ name, kind, figures }) => ({
        label: name,
        description: kind === 'batch' ? `batch · ${figures}` : figures,
        like: name,
      })),
    ],
    { title, placeHolder: 'Grafts of which pair, or like which batch?', matchOnDescription: true },
  );
  if (!like) return;
  const hours = await window.showInputBox({
    title,
    prompt: 'How many hours a week are there for grafting? Leave it blank where that isn’t asked.',
    value: hoursSaid(),
    validateInput: (text) =>
      text.trim() === '' || hoursOf(text) !== undefined ? undefined : 'Hours a week, 0 to 168, or nothing.',
  });
  if (hours === undefined) return;
  const there = hoursOf(hours);
  await show(`Plan ${takes.trim()} takes`, {
    uri: choices.uri,
    asked: {
      kind: 'plan',
      takes: wholeOf(takes, 10_000) ?? 1,
      ...(like.like === undefined ? {} : { like: like.like }),
      ...(there === undefined ? {} : { hours: there }),
    },
  });
}

async function choicesOf(client: BaseLanguageClient): Promise<FigureChoices | undefined> {
  const uri = window.activeTextEditor?.document.uri;
  const choices: FigureChoicesResult = await client.sendRequest(
    FigureChoicesRequest,
    uri ? { uri: uri.toString() } : {},
  );
  if (!choices) void window.showInformationMessage('No graft log here that was read to its end yet.');
  return choices ?? undefined;
}

async function show(title: string, asked: FiguresParams): Promise<void> {
  await window.showTextDocument(figuresUri(title, asked), { preview: true });
}

function wholeOf(text: string, most: number): number | undefined {
  const figure = /^\d+$/.test(text.trim()) ? Number(text) : 0;
  return figure >= 1 && figure <= most ? figure : undefined;
}

/** The setting, as the answer to be changed. */
function hoursSaid(): string {
  const settings = workspace.getConfiguration('graftlog');
  const hours = settings.get<number>('hours') ?? 0;
  return hours > 0 ? String(hours) : '';
}

function hoursOf(text: string): number | undefined {
  const hours = text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));
  return hours >= 0 && hours <= 168 ? hours : undefined;
}
