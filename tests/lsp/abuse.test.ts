import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, onTestFinished, test } from 'vitest';
import type { Hover } from 'vscode-languageserver-protocol';
import { codesOf, type Server, startServer } from '../support/server.ts';

/* What an editor that errs, or ends, does to the built server: it answers, or ends by itself; it never throws. */

const uri = 'untitled:abuse.graft';
const log = 'place frame\nbatch K26 Pinus mugo in frame\n2026-10-09\ngraft K26.1..12  cut 40%\nopne K26\n';
const at = { textDocument: { uri }, position: { line: 3, character: 8 } };

async function started(wishes: Parameters<typeof startServer>[0] = {}): Promise<Server> {
  const server = await startServer(wishes);
  onTestFinished(() => void server.process.kill('SIGKILL'));
  return server;
}

const hovered = async (server: Server): Promise<string> => {
  const hover = await server.connection.sendRequest<Hover>('textDocument/hover', at);
  return (hover.contents as { value: string }).value.replaceAll('\\', '');
};

describe('an editor that errs', () => {
  test('edits beyond the text, backwards, of no file and with stale versions: the text is what stands, and it goes on', async () => {
    const server = await started();
    await server.open(uri, log);
    expect(codesOf(await server.diagnostics(uri, (found) => found.length > 0))).toContain('5 unknown-word');
    const change = (version: number, range: unknown, text: string, of = uri) =>
      server.connection.sendNotification('textDocument/didChange', {
        textDocument: { uri: of, version },
        contentChanges: [range === undefined ? { text } : { range, text }],
      } as never);
    const place = (line: number, character: number) => ({ line, character });
    await change(2, { start: place(900, 900), end: place(9000, 1) }, 'opne\n');
    await change(1, { start: place(3, 999), end: place(3, 99999) }, '');
    await change(0, { start: place(-5, -5), end: place(-1, 3) }, '');
    await change(9, { start: place(4, 5), end: place(2, 1) }, '');
    await change(10, undefined, 'opne K26\n', 'untitled:never-opened.graft');
    await server.connection.sendNotification('textDocument/didClose', {
      textDocument: { uri: 'untitled:never.graft' },
    });
    await change(11, undefined, log);
    await server.open(uri, log, 12);
    expect(await hovered(server)).toContain('K26.1..12');
    expect(await server.stop()).toBe(0);
  });

  test('requests of files that are not open, of none, and without what they need', async () => {
    const server = await started();
    const ask = (method: string, params: unknown) =>
      server.connection.sendRequest(method, params as never).then(
        () => 'answered',
        (error: Error) => error.message,
      );
    const methods = ['hover', 'completion', 'definition', 'documentSymbol', 'codeLens', 'foldingRange', 'formatting'];
    for (const method of methods) {
      const elsewhere = { ...at, textDocument: { uri: 'file:///nowhere/a.graft' } };
      expect(await ask(`textDocument/${method}`, elsewhere)).toBe('answered');
      // an editor's own fault: an error, and no more than that
      for (const params of [{}, null, { textDocument: 7 }])
        expect(await ask(`textDocument/${method}`, params)).toMatch(/^answered$|^Request textDocument/);
    }
    expect(await ask('textDocument/noSuchThing', at)).toMatch(/noSuchThing/);
    await server.open(uri, log);
    expect(await hovered(server)).toContain('K26.1..12');
  });

  test('a thousand requests, each cancelled at once: each has its answer, and the next is answered', async () => {
    const server = await started();
    await server.open(uri, log);
    const { CancellationTokenSource } = await import('vscode-languageserver-protocol/node');
    const all = Array.from({ length: 1000 }, (_, i) => {
      const source = new CancellationTokenSource();
      const method = ['textDocument/hover', 'textDocument/references', 'textDocument/documentSymbol', 'graftlog/work'][
        i % 4
      ];
      const asked = server.connection.sendRequest(method as string, { ...at, context: {} } as never, source.token);
      source.cancel();
      return asked.then(
        () => 'answered',
        (error: { code?: number }) => error.code,
      );
    });
    const ends = new Set(await Promise.all(all));
    for (const end of ends) expect(end).toBeOneOf(['answered', -32800, -32801]);
    expect(await hovered(server)).toContain('K26.1..12');
  });
});

describe('the disk beneath it', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'graftlog-'));
    writeFileSync(join(folder, 'a.graft'), log);
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  const here = (name = '') => pathToFileURL(join(folder, name)).href;

  test('a file deleted while it is open: what is open holds, and it may be closed', async () => {
    const server = await started({ folder: here(), settings: {}, watches: true });
    await server.open(here('a.graft'), log);
    await server.diagnostics(here('a.graft'), (found) => found.length > 0);
    unlinkSync(join(folder, 'a.graft'));
    await server.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: here('a.graft'), type: 3 }],
    });
    await server.change(here('a.graft'), 2, 4, 0, 4, 'opn');
    expect(codesOf(await server.diagnostics(here('a.graft'), (found) => found.length > 0))).toContain('5 unknown-word');
    await server.connection.sendNotification('textDocument/didClose', { textDocument: { uri: here('a.graft') } });
    expect(await server.diagnostics(here('a.graft'), (found) => found.length === 0)).toEqual([]);
    expect(await server.stop()).toBe(0);
  });

  test('two servers on one folder: both say the same, and neither writes', async () => {
    const [one, other] = [
      await started({ folder: here(), settings: {} }),
      await started({ folder: here(), settings: {} }),
    ];
    for (const server of [one, other]) await server.open(here('a.graft'), log);
    const said = async (server: Server) =>
      codesOf(await server.diagnostics(here('a.graft'), (found) => found.length > 0));
    expect(await said(one)).toEqual(await said(other));
    expect([await one.stop(), await other.stop()]).toEqual([0, 0]);
    expect(readdirSync(folder)).toEqual(['a.graft']);
    expect(readFileSync(join(folder, 'a.graft'), 'utf8')).toBe(log);
  });
});

describe('bytes that are no protocol, and an end without a word', () => {
  function raw(): {
    child: ChildProcess;
    out: () => string;
    err: () => string;
    ended: Promise<number | string | null>;
  } {
    const child = spawn(process.execPath, ['dist/server.js', '--stdio']);
    onTestFinished(() => void child.kill('SIGKILL'));
    const said = { out: '', err: '' };
    child.stdout?.on('data', (part: string) => {
      said.out += part;
    });
    child.stderr?.on('data', (part: string) => {
      said.err += part;
    });
    child.stdin?.on('error', () => {});
    const ended = new Promise<number | string | null>((done) =>
      child.on('exit', (status, signal) => done(signal ?? status)),
    );
    return { child, out: () => said.out, err: () => said.err, ended };
  }
  const framed = (body: string) => `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
  const call = (id: number, method: string, params: unknown) =>
    framed(JSON.stringify({ jsonrpc: '2.0', id, method, params }));
  const initialize = call(1, 'initialize', { processId: null, rootUri: null, capabilities: {} });
  const until = async (wish: () => boolean) => {
    const late = performance.now() + 15_000;
    while (!wish() && performance.now() < late) await new Promise((done) => setTimeout(done, 10));
  };

  test('a request before initialize is answered, and initialize still works', async () => {
    const { child, out, err } = raw();
    child.stdin?.write(call(7, 'textDocument/hover', at));
    child.stdin?.write(initialize);
    await until(() => out().includes('"id":1'));
    expect(out()).toContain('"id":7');
    expect(out()).toContain('capabilities');
    expect(out()).not.toMatch(/undefined|at .*\.js/);
    expect(err()).toBe('');
  });

  test.each([
    ['a body that is no JSON', framed('{"jsonrpc":')],
    ['a body that is no message', framed('[1,2,3]')],
    ['a message of nobody', framed('{"jsonrpc":"2.0","id":3,"result":5}')],
    ['a header of another kind', 'X-Nothing: 1\r\nContent-Length: 2\r\n\r\n{}'],
  ])('%s: what comes behind it is answered', async (_, bytes) => {
    const { child, out, err } = raw();
    child.stdin?.write(bytes);
    child.stdin?.write(initialize);
    await until(() => out().includes('"id":1'));
    expect(out()).toContain('capabilities');
    expect(err()).not.toMatch(/\n\s+at /);
  });

  test.each([
    ['no header at all', `${'x'.repeat(100)}\r\n\r\n`],
    ['a length that is none', 'Content-Length: many\r\n\r\n{}'],
  ])('%s: it ends, as nothing behind it can be told apart', async (_, bytes) => {
    const { child, err, ended } = raw();
    child.stdin?.write(bytes);
    child.stdin?.end();
    expect(await ended).toBe(1);
    expect(err()).not.toMatch(/\n\s+at /);
  });

  test.each([
    ['the editor goes without a word', (child: ChildProcess): void => void child.stdin?.end(), 1],
    ['it is told to end by the system', (child: ChildProcess): void => void child.kill('SIGTERM'), 'SIGTERM'],
  ] as const)('%s: it ends, and prints nothing', async (_, end, status) => {
    const { child, out, err, ended } = raw();
    child.stdin?.write(initialize);
    await until(() => out().includes('"id":1'));
    end(child);
    expect(await ended).toBe(status);
    expect(err()).toBe('');
  });
});
