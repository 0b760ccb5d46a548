import { describe, expect, test } from 'vitest';
import type { WorkList } from '#server/lsp/protocol.ts';
import { hostServer, memoryHost } from '../support/hosted-server.ts';
import { codesOf } from '../support/server.ts';

const declared =
  'place frame  frost-free shade wind-break\nbatch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame\n';
const made = '2027-03-01\ngraft K26.1..4  cut 40%  whorls 2\n';
const slip = '2027-03-01\ngraft K26.1..4  cut 40%  whorls 2\nopne K26 20%\n';
const open = (uri: string, text: string) => ({ textDocument: { uri, languageId: 'graft', version: 1, text } });

describe('findings are taken back when what they speak of goes', () => {
  test('a file deleted, a file renamed', async () => {
    const files = new Map([
      ['file:///n/a.graft', declared],
      ['file:///n/b.graft', slip],
    ]);
    const server = await hostServer(memoryHost(files), ['file:///n']);
    await server.until(() => server.held.has('file:///n/b.graft'));
    files.delete('file:///n/b.graft');
    files.set('file:///n/c.graft', slip);
    await server.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [
        { uri: 'file:///n/b.graft', type: 3 },
        { uri: 'file:///n/c.graft', type: 1 },
      ],
    });
    await server.until(() => server.held.has('file:///n/c.graft') && !server.held.has('file:///n/b.graft'));
    // renamed, and not there twice
    expect(codesOf(server.held.get('file:///n/c.graft') ?? [])).toEqual(['3 unknown-word']);
    files.delete('file:///n/c.graft');
    await server.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: 'file:///n/c.graft', type: 3 }],
    });
    await server.until(() => server.held.size === 0);
    server.stop();
  });

  test('a file outside of every folder is closed; of one in a folder what is on the disk holds again', async () => {
    const files = new Map([['file:///n/a.graft', declared + made]]);
    const server = await hostServer(memoryHost(files), ['file:///n']);
    await server.connection.sendNotification('textDocument/didOpen', open('file:///else/x.graft', 'opne K26\n'));
    await server.connection.sendNotification('textDocument/didOpen', open('file:///n/a.graft', declared + slip));
    await server.until(() => server.held.size === 2);
    for (const uri of ['file:///else/x.graft', 'file:///n/a.graft'])
      await server.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await server.until(() => server.held.size === 0);
    server.stop();
  });

  test('a folder removed: its closed files lose theirs, a file open in it stands alone', async () => {
    const files = new Map([
      ['file:///n/a.graft', declared],
      ['file:///n/b.graft', slip],
      ['file:///n/c.graft', 'opne K26\n'],
      ['file:///m/a.graft', 'opne K26\n'],
    ]);
    const server = await hostServer(memoryHost(files), ['file:///n', 'file:///m']);
    await server.connection.sendNotification('textDocument/didOpen', open('file:///n/b.graft', slip));
    await server.until(() => server.held.size === 3);
    await server.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [{ uri: 'file:///n', name: 'n' }] },
    });
    await server.until(() => server.held.get('file:///n/b.graft')?.length === 2);
    // its batch was declared in a file that is no longer part of its log
    expect(codesOf(server.held.get('file:///n/b.graft') ?? [])).toEqual(['2 unknown-batch', '3 unknown-word']);
    expect([...server.held.keys()].sort()).toEqual(['file:///m/a.graft', 'file:///n/b.graft']);
    server.stop();
  });
});

describe('several folders are several logs', () => {
  const twice = new Map([
    ['file:///n/a.graft', declared + made],
    ['file:///m/a.graft', declared + made],
  ]);

  test('the same batch and the same grafts in two folders are no slip, and each has its own work', async () => {
    const server = await hostServer(memoryHost(twice), ['file:///n', 'file:///m']);
    const lists = await server.connection.sendRequest<WorkList[]>('graftlog/work', {});
    expect(lists.map(({ name, files, rows }) => `${name} ${files} ${rows.every((row) => row.count === 4)}`)).toEqual([
      'n 1 true',
      'm 1 true',
    ]);
    expect(lists.every(({ rows }) => rows.length > 0)).toBe(true);
    expect(server.held.size).toBe(0);
    server.stop();
  });

  test('a folder within a folder is read once, as the log it is, and joins the wider one when it is closed', async () => {
    const files = new Map([
      ['file:///n/a.graft', declared + made],
      ['file:///n/old/a.graft', declared + made],
    ]);
    const server = await hostServer(memoryHost(files), ['file:///n', 'file:///n/old']);
    const counts = async () =>
      (await server.connection.sendRequest<WorkList[]>('graftlog/work', {})).map(
        ({ name, files: f }) => `${name} ${f}`,
      );
    expect(await counts()).toEqual(['n 1', 'old 1']);
    expect(server.held.size).toBe(0);
    const change = (added: string[], removed: string[]) =>
      server.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
        event: { added: added.map((uri) => ({ uri, name: uri })), removed: removed.map((uri) => ({ uri, name: uri })) },
      });
    await change([], ['file:///n/old']);
    await server.until(() => server.held.size > 0);
    expect(await counts()).toEqual(['n 2']);
    await change(['file:///n/old'], []);
    await server.until(() => server.held.size === 0);
    expect(await counts()).toEqual(['n 1', 'old 1']);
    server.stop();
  });
});

describe('the first reading of a big folder', () => {
  test('shows how far it is, and can be stopped: then nothing is claimed, until it is read to its end', async () => {
    const files = new Map([['file:///n/a.graft', declared + slip]]);
    for (let at = 0; at < 40; at++) files.set(`file:///n/z${at}.graft`, `# ${at}\n`);
    const memory = memoryHost(files);
    const slow = {
      ...memory,
      read: (uri: string) => new Promise<string | undefined>((done) => setTimeout(() => done(files.get(uri)), 50)),
    };
    const said: { kind: string; title?: string; cancellable?: boolean; message?: string }[] = [];
    let token: string | number | undefined;
    const server = await hostServer(slow, ['file:///n'], { window: { workDoneProgress: true } }, (connection) => {
      connection.onRequest('window/workDoneProgress/create', (params: { token: string | number }) => {
        token = params.token;
        return null;
      });
      connection.onNotification('$/progress', ({ value }: { value: (typeof said)[number] }) => void said.push(value));
    });
    const asked = server.connection.sendRequest<WorkList[]>('graftlog/work', {});
    await server.until(() => said.some(({ kind, message }) => kind === 'report' && message !== undefined));
    expect(said[0]).toMatchObject({ kind: 'begin', title: 'Graft Log reads n', cancellable: true });
    expect(said.find(({ kind }) => kind === 'report')?.message).toMatch(/^\d+ of 41 files$/);
    await server.connection.sendNotification('window/workDoneProgress/cancel', { token });
    expect(await asked).toMatchObject([{ name: 'n', stopped: true, rows: [], files: 0 }]);
    await server.until(() => said.some(({ kind }) => kind === 'end'));
    expect(server.held.size).toBe(0);
    const [whole] = await server.connection.sendRequest<WorkList[]>('graftlog/work', { again: true });
    expect(whole).toMatchObject({ files: 41 });
    expect(whole?.stopped).toBeUndefined();
    await server.until(() => server.held.has('file:///n/a.graft'));
    server.stop();
  });

  test('a file that can’t be read is named, and the others are read', async () => {
    const files = new Map([['file:///n/a.graft', declared + made]]);
    const memory = memoryHost(files);
    const host = { ...memory, list: async () => ['file:///n/a.graft', 'file:///n/locked.graft'] };
    const server = await hostServer(host, ['file:///n']);
    const [list] = await server.connection.sendRequest<WorkList[]>('graftlog/work', {});
    expect(list).toMatchObject({ files: 1, unread: ['locked.graft'] });
    server.stop();
  });
});
