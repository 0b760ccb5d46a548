import { type Disposable, Position, Range, Selection, Uri, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { GoToGraftRequest, type GoToGraftResult } from '#server/lsp/protocol.ts';
import { graftOf, isGraftNumber } from './graft-address.ts';

/** Goes to the line that made a graft, from what was typed or scanned: its number stands first. */
export async function goToGraft(client: BaseLanguageClient, given?: string): Promise<void> {
  const text =
    given ??
    (await window.showInputBox({ title: 'Go to graft', prompt: 'A number as on the label', placeHolder: 'K26.12' }));
  const number = text?.trim().split(/\s/)[0];
  if (!text || !number) return;
  const found: GoToGraftResult = await client.sendRequest(GoToGraftRequest, { text });
  if (found) await showPlace(found);
  else
    void window.showInformationMessage(
      isGraftNumber(number)
        ? `No graft ${number} in this log.`
        : 'This is no graft’s number: K26.12 is one, its batch first.',
    );
}

/** An address that a label’s code or another program opens. */
export function registerAddresses(client: BaseLanguageClient): Disposable {
  return window.registerUriHandler({
    handleUri(uri) {
      const graft = graftOf(uri);
      if (graft) return goToGraft(client, graft);
      void window.showInformationMessage('This address names no graft.');
      return undefined;
    },
  });
}

export async function showPlace(at: {
  readonly uri: string;
  readonly line: number;
  readonly character: number;
}): Promise<void> {
  const position = new Position(at.line, at.character);
  const editor = await window.showTextDocument(Uri.parse(at.uri));
  editor.selection = new Selection(position, position);
  editor.revealRange(new Range(position, position));
}
