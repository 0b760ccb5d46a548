import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { onTestFinished } from 'vitest';
import { serve } from '../../client/workbench/serve.mjs';

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

interface Asked {
  readonly method?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
  /** Path of the address as it is sent; else the token and `path`. */
  readonly whole?: string;
}

export interface ServedFolder {
  readonly folder: string;
  readonly address: string;
  readonly port: number;
  readonly token: string;
  /** A request as any program of this machine could send it: all headers are the test's own. */
  ask(path: string, asked?: Asked): Promise<Answer>;
  /** As the page asks for work on a file. */
  get(work: string, path: string): Promise<Answer>;
  put(work: string, query: Record<string, string>, asked?: Asked): Promise<Answer>;
}

/** A folder of its own with these files, served until the test ends. The folder lies in another that is not served. */
export async function servedFolder(files: Record<string, string>): Promise<ServedFolder> {
  const around = await mkdtemp(join(tmpdir(), 'graftlog-'));
  const folder = join(around, 'log');
  const project = join(around, 'project');
  const all = {
    'log/.keep': '',
    'outside.graft': 'graft Z1.1\n',
    'log-beside/own.graft': 'graft Z2.1\n',
    'project/package.json': '{ "name": "p", "scripts": {}, "contributes": { "icon": "./client/images/a.svg" } }',
    'project/package.nls.json': '{}',
    'project/client/images/a.svg': '<svg/>',
    'project/secret.json': '{}',
    'page/index.html': '<!doctype html>the page',
    ...Object.fromEntries(Object.entries(files).map(([name, text]) => [`log/${name}`, text])),
  };
  for (const [name, text] of Object.entries(all)) {
    await mkdir(dirname(join(around, name)), { recursive: true });
    await writeFile(join(around, name), text);
  }
  const { address, close } = await serve({ folder, page: join(around, 'page'), project, port: 0 });
  onTestFinished(async () => {
    close();
    await rm(around, { recursive: true });
  });
  const { port, pathname } = new URL(address);
  const token = pathname.slice(1, -1);
  const own = `http://127.0.0.1:${port}`;
  const ask = (path: string, asked: Asked = {}) => send(Number(port), asked.whole ?? `/${token}${path}`, asked);
  return {
    folder,
    address,
    port: Number(port),
    token,
    ask,
    get: (work, path) => ask(`/fs/${work}?${new URLSearchParams({ path })}`),
    put: (work, query, asked = {}) =>
      ask(`/fs/${work}?${new URLSearchParams(query)}`, {
        ...asked,
        method: 'PUT',
        headers: { origin: own, ...asked.headers },
      }),
  };
}

function send(port: number, path: string, { method = 'GET', headers = {}, body = '' }: Asked): Promise<Answer> {
  return new Promise((done, fail) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers: { connection: 'close', ...headers } });
    asked.on('error', fail);
    asked.on('response', (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (part) => {
        text += part;
      });
      response.on('end', () => done({ status: response.statusCode ?? 0, headers: response.headers, text }));
    });
    asked.end(body);
  });
}
