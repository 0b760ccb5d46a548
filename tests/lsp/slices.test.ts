import { expect, test } from 'vitest';
import { CancellationTokenSource, LSPErrorCodes } from 'vscode-languageserver';
import { Asking } from '#server/lsp/asking.ts';
import type { Slices } from '#server/lsp/feature.ts';
import type { Host } from '#server/workspace/host.ts';
import { Workspace } from '#server/workspace/workspace.ts';
import { dayOf } from '../support/log.ts';

const uri = 'untitled:log.graft';
const textDocument = { uri };

/** A server with one open text; `meanwhile` is what happens each time a long answer lets others be heard. */
async function asked(meanwhile: (workspace: Workspace, cancel: CancellationTokenSource) => void) {
  let clock = 0;
  const cancel = new CancellationTokenSource();
  const host = {
    today: () => dayOf('2026-10-09'),
    now: () => clock,
    pause: async () => meanwhile(workspace, cancel),
  } as unknown as Host;
  const workspace: Workspace = new Workspace(host);
  await workspace.openText(uri, 1, 'batch K26\n');
  let steps = 0;
  const handler = new Asking(workspace, host, () => undefined).slices(0, function* (): Slices<number> {
    for (; steps < 100; steps++) {
      clock += 7;
      yield;
    }
    return steps;
  });
  const answer = await handler({ textDocument }, cancel.token).catch((error) => error.code);
  return { answer, steps };
}

test('a long answer lets others be heard every twenty milliseconds', async () => {
  let heard = 0;
  expect(await asked(() => heard++)).toEqual({ answer: 100, steps: 100 });
  expect(heard).toBe(33);
});

test('it stops where nobody waits for it any more, or the text has changed', async () => {
  const cancelled = await asked((_workspace, cancel) => cancel.cancel());
  expect(cancelled).toEqual({ answer: LSPErrorCodes.RequestCancelled, steps: 2 });
  const changed = await asked((workspace) => workspace.changeText(uri, 2, [{ text: 'batch K27\n' }]));
  expect(changed).toEqual({ answer: LSPErrorCodes.ContentModified, steps: 2 });
});
