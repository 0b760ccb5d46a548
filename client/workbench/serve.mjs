// Serves the workbench page and one folder to this machine only.
import { randomBytes } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { basename, extname, sep } from 'node:path';
import { extensionFiles, manifestOf } from './extension-files.mjs';
import { listOf, makeFolder, move, readOf, remove, statOf, write } from './files.mjs';
import { firstLog } from './first-log.mjs';
import { admit, headers } from './gate.mjs';
import { placeOf, Refusal } from './place.mjs';
import { watchFolder } from './watch.mjs';

/** @type {Record<string, string>} */
const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.md': 'text/markdown; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ttf': 'font/ttf',
  '.wasm': 'application/wasm',
};
const largest = 64 * 1024 * 1024;

/**
 * @typedef {import('node:http').IncomingMessage} Request
 * @typedef {import('node:http').ServerResponse} Response
 * @typedef {{ folder: string, page: string, project: string, port: number }} What folder of the logs, folder of the
 *   built page, folder of the manifest whose extension the page runs, port wished for (0: any)
 */

/**
 * @param {What} what
 * @returns {Promise<{ address: string, close: () => void }>}
 */
export async function serve({ folder, page, project, port }) {
  const root = realpathSync(folder);
  const token = randomBytes(16).toString('hex');
  const events = eventsOf(root);
  const server = createServer((request, response) => {
    answer(request, response).catch((error) => refuse(response, error));
  });
  const listening = await listenOn(server, port);
  const close = () => {
    events.close();
    server.close();
    server.closeAllConnections();
  };
  return { address: `http://127.0.0.1:${listening}/${token}/`, close };

  /**
   * @param {Request} request
   * @param {Response} response
   */
  async function answer(request, response) {
    const url = admit(request, listening, token);
    const path = decodeURIComponent(url.pathname);
    if (path.startsWith('/fs/')) {
      const changes = changing[path.slice(4)];
      if (request.method === 'PUT' && changes) await changes(root, url.searchParams, request);
      else if (request.method === 'PUT') throw new Refusal(404, 'There is no such work on files.');
      return send(response, request.method === 'PUT' ? '' : await onDisk(root, path.slice(4), url.searchParams));
    }
    if (request.method !== 'GET') throw new Refusal(405, 'Only the files of the folder are written.');
    if (path === '/events') return events.add(response);
    if (path === '/boot') return send(response, await boot(root, project), '.json');
    if (path.startsWith('/ext/')) return sendNamed(response, project, path.slice(5), extensionFiles(project));
    // Built files carry a mark of their contents in their names.
    if (path.startsWith('/assets/')) response.setHeader('cache-control', 'public, max-age=31536000, immutable');
    const file = await placeOf(realpathSync(page), path === '/' ? '/index.html' : path);
    return send(response, await readFile(file), extname(file));
  }
}

/**
 * @param {string} root
 * @param {string} work
 * @param {URLSearchParams} query
 */
async function onDisk(root, work, query) {
  if (work === 'read') return readOf(root, query.get('path'));
  if (work === 'stat') return JSON.stringify(await statOf(root, query.get('path')));
  if (work === 'list') return JSON.stringify(await listOf(root, query.get('path')));
  throw new Refusal(404, 'There is no such work on files.');
}

/** @type {Record<string, (root: string, query: URLSearchParams, request: Request) => Promise<void>>} */
const changing = {
  async write(root, query, request) {
    // A save says which file it was made from, so that none is written over that the page hasn't seen.
    const seen = request.headers['if-match'];
    if (seen === undefined && request.headers['if-none-match'] !== '*')
      throw new Refusal(428, 'A save names the version of the file it was made from.');
    await write(root, query.get('path'), await bodyOf(request), { version: seen ?? null });
  },
  mkdir: (root, query) => makeFolder(root, query.get('path')),
  delete: (root, query) => remove(root, query.get('path'), query.get('contents') === 'yes'),
  rename: (root, query) => move(root, query.get('path'), query.get('to'), query.get('over') === 'yes'),
};

/**
 * What the page asks first.
 * @param {string} root
 * @param {string} project
 */
async function boot(root, project) {
  return JSON.stringify({
    root: asUriPath(root),
    name: basename(root) || root,
    first: await firstLog(root),
    files: extensionFiles(project),
    manifest: manifestOf(project),
  });
}

/**
 * `C:\\logs` is `/c:/logs` to the workbench.
 * @param {string} root
 */
const asUriPath = (root) => root.replaceAll(sep, '/').replace(/^([A-Za-z]):/, (_, drive) => `/${drive.toLowerCase()}:`);

/** @param {string} root */
function eventsOf(root) {
  /** @type {Set<Response>} */
  const listeners = new Set();
  /** @type {(() => void) | undefined} */
  let end;
  return {
    /** @param {Response} response */
    add(response) {
      response.writeHead(200, { ...headers, 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
      response.write(': here\n\n');
      listeners.add(response);
      end ??= watchFolder(root, (changes) => {
        for (const listener of listeners) listener.write(`data: ${JSON.stringify(changes)}\n\n`);
      });
      response.on('close', () => {
        listeners.delete(response);
        if (listeners.size > 0) return;
        end?.();
        end = undefined;
      });
    },
    close: () => end?.(),
  };
}

/**
 * The port wished for, or the next that is free, on the loopback address.
 * @param {import('node:http').Server} server
 * @param {number} port
 * @returns {Promise<number>}
 */
function listenOn(server, port) {
  return new Promise((done, fail) => {
    const last = port + 50;
    server.on('error', (/** @type {NodeJS.ErrnoException} */ error) => {
      if (error.code !== 'EADDRINUSE' || port >= last) return fail(error);
      port += 1;
      server.listen(port, '127.0.0.1');
    });
    server.on('listening', () => done(/** @type {import('node:net').AddressInfo} */ (server.address()).port));
    server.listen(port, '127.0.0.1');
  });
}

/**
 * @param {Response} response
 * @param {string} folder
 * @param {string} name
 * @param {string[]} allowed
 */
async function sendNamed(response, folder, name, allowed) {
  if (!allowed.includes(name)) throw new Refusal(404, 'The extension has no such file.');
  return send(response, await readFile(`${folder}/${name}`), extname(name));
}

/**
 * @param {Response} response
 * @param {string | Uint8Array} body
 * @param {string} type ending of the file's name; none: bytes
 */
function send(response, body, type = '') {
  if (!response.hasHeader('cache-control')) response.setHeader('cache-control', 'no-store');
  response.writeHead(200, { ...headers, 'content-type': types[type] ?? 'application/octet-stream' });
  response.end(body);
}

/**
 * @param {Response} response
 * @param {unknown} error
 */
function refuse(response, error) {
  const { code } = /** @type {NodeJS.ErrnoException} */ (error);
  const known = { ENOENT: 404, ENOTDIR: 404, EACCES: 403, EPERM: 403, EROFS: 403, EEXIST: 409, ENOTEMPTY: 409 };
  const status = error instanceof Refusal ? error.status : (known[/** @type {keyof typeof known} */ (code)] ?? 500);
  // The system's own words would name the folder's full path.
  const reason = error instanceof Refusal ? error.message : `Not done (${code ?? 'no reason given'}).`;
  if (!response.headersSent)
    response.writeHead(status, {
      ...headers,
      'content-type': 'text/plain; charset=utf-8',
      'cache-control': 'no-store',
    });
  response.end(reason);
}

/** @param {Request} request */
async function bodyOf(request) {
  const parts = [];
  let size = 0;
  for await (const part of request) {
    size += part.length;
    if (size > largest) throw new Refusal(413, 'A file over 64 MB is not saved from here.');
    parts.push(part);
  }
  return Buffer.concat(parts);
}
