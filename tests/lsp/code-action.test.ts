import { describe, expect, test } from 'vitest';
import type { CodeAction, TextDocumentEdit } from 'vscode-languageserver-protocol';
import { hostServer, memoryHost } from '../support/hosted-server.ts';

const folder = 'file:///logs';
const uri = `${folder}/log.graft`;
const nursery = `${folder}/nursery.graft`;
const text = `2026-10-9
graft K26.1  cut 1,5mm  stock 9mm
`;
const batch = 'batch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film  frost-free\n';

async function opened(capabilities: Parameters<typeof hostServer>[2]) {
  const server = await hostServer(memoryHost(new Map([[nursery, batch]])), [folder], capabilities);
  const { connection } = server;
  await connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'graft', version: 7, text },
  });
  const actions = (line: number, only?: string) =>
    connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri },
      range: { start: { line, character: 0 }, end: { line, character: 9 } },
      context: { diagnostics: [], ...(only ? { only: [only] } : {}) },
    });
  await server.until(() => server.held.has(uri));
  return { ...server, actions };
}

describe('mends', () => {
  test('name the text they are for, so that an editor drops those of an older one', async () => {
    const { actions, stop } = await opened({ workspace: { workspaceEdit: { documentChanges: true } } });
    const [mend] = await actions(0);
    expect(mend).toMatchObject({
      title: 'Make it 2026-10-09',
      isPreferred: true,
      edit: { documentChanges: [{ textDocument: { uri, version: 7 }, edits: [{ newText: '2026-10-09' }] }] },
    });
    // a file that isn't open has no version
    const accept = (await actions(1)).find(({ title }) => title === 'I know: accept for K26');
    const [edit] = (accept?.edit?.documentChanges ?? []) as TextDocumentEdit[];
    expect(edit?.textDocument).toEqual({ uri: nursery, version: null });
    stop();
  });

  test('all that can’t change a meaning are one', async () => {
    const { actions, stop } = await opened({});
    const [all, ...others] = await actions(0, 'source.fixAll');
    expect(others).toEqual([]);
    expect(all?.edit?.changes?.[uri]?.map(({ newText }) => newText)).toEqual(['2026-10-09', '1.5mm']);
    stop();
  });
});
