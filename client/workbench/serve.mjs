// Serves the workbench page and one folder to this machine only. Every request must carry the token in its path.
import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { basename, extname, join, resolve, sep } from 'node:path';
import { difference, list, mkdir, Refused, read, remove, rename, snapshot, stat, write } from './folder.mjs';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ttf': 'font/ttf',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.md': 'text/markdown; charset=utf-8',
  '.graft': 'text/plain; charset=utf-8',
};
const policy = [
  "default-src 'self'",
  "script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:",
  "worker-src 'self' data: blob:",
  "frame-src 'self' data: blob:",
  "connect-src 'self' data: blob:",
  "font-src 'self' data: blob:",
  "style-src 'self' 'unsafe-inline' https://*.vscode-resource.vscode-cdn.net",
  "img-src 'self' data: blob: https://*.vscode-resource.vscode-cdn.net",
].join('; ');
const most = 64 * 1024 * 1024;

/**
 * @param {{ folder: string, page: string, project: string, port?: number }} what folder of the log, built page, and the
 *   project whose manifest and bundles are the extension
 * @returns {Promise<{ url: string, port: number, close(): void }>}
 */
export async function serve({ folder, page, project, port = 4810 }) {
  const root = resolve(folder);
  const token = randomBytes(16).toString('hex');
  const listeners = new Set();
  const server = createServer((request, response) => {
    answer(request, response).catch((error) => {
      const status =
        error instanceof Refused ? error.status : error.code === 'ENOENT' ? 404 : error.code === 'EACCES' ? 403 : 500;
      if (!response.headersSent)
        response.writeHead(status, {
          'content-type': 'text/plain; charset=utf-8',
          'x-content-type-options': 'nosniff',
        });
      response.end(error instanceof Refused ? error.message : `Not done (${error.code ?? 'unknown reason'}).`);
    });
  });

  async function answer(request, response) {
    const { port: own } = server.address();
    const hosts = [`127.0.0.1:${own}`, `localhost:${own}`];
    if (!hosts.includes(request.headers.host)) throw new Refused(403, 'This page answers to its own address only.');
    const origin = request.headers.origin;
    if (origin !== undefined && origin !== `http://${request.headers.host}`)
      throw new Refused(403, 'This page answers to itself only.');
    const site = request.headers['sec-fetch-site'];
    if (site !== undefined && site !== 'same-origin' && site !== 'none')
      throw new Refused(403, 'This page answers to itself only.');
    const url = new URL(request.url, `http://${request.headers.host}`);
    if (!url.pathname.startsWith(`/${token}/`)) throw new Refused(404, 'Nothing here.');
    const path = decodeURIComponent(url.pathname.slice(token.length + 1));
    response.setHeader('x-content-type-options', 'nosniff');
    response.setHeader('referrer-policy', 'no-referrer');
    response.setHeader('content-security-policy', policy);
    response.setHeader(
      'cache-control',
      path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-store',
    );
    if (path.startsWith('/fs/')) return await onDisk(path.slice(4), url.searchParams, request, response);
    if (request.method !== 'GET') throw new Refused(403, 'Only the folder’s files are written.');
    if (path === '/events') return listen(response);
    if (path === '/boot') return send(response, JSON.stringify(boot(root, project)), '.json');
    if (path.startsWith('/ext/')) return sendFile(response, project, path.slice(5), extensionFiles(project));
    return sendFile(response, page, path === '/' ? 'index.html' : path.slice(1));
  }

  async function onDisk(what, query, request, response) {
    const path = query.get('path');
    const writes = !['stat', 'list', 'read'].includes(what);
    if (writes && (request.method !== 'PUT' || request.headers.origin === undefined))
      throw new Refused(403, 'Writing is asked for by the page itself.');
    const flag = (name) => query.get(name) === '1';
    switch (what) {
      case 'stat':
        return send(response, JSON.stringify(await stat(root, path)), '.json');
      case 'list':
        return send(response, JSON.stringify(await list(root, path)), '.json');
      case 'read':
        return send(response, await read(root, path));
      case 'write':
        await write(root, path, await body(request), { create: flag('create'), overwrite: flag('overwrite') });
        break;
      case 'mkdir':
        await mkdir(root, path);
        break;
      case 'delete':
        await remove(root, path);
        break;
      case 'rename':
        await rename(root, path, query.get('to'), flag('overwrite'));
        break;
      default:
        throw new Refused(404, 'Nothing here.');
    }
    return send(response, '');
  }

  function listen(response) {
    response.writeHead(200, { 'content-type': 'text/event-stream' });
    response.write(': here\n\n');
    listeners.add(response);
    response.on('close', () => listeners.delete(response));
  }

  let before;
  const watching = setInterval(async () => {
    if (listeners.size === 0) {
      before = undefined;
      return;
    }
    const after = await snapshot(root);
    const changes = before ? difference(before, after) : [];
    before = after;
    if (changes.length > 0) for (const response of listeners) response.write(`data: ${JSON.stringify(changes)}\n\n`);
  }, 500);
  watching.unref();

  const listening = await listenOn(server, port);
  return {
    url: `http://127.0.0.1:${listening}/${token}/`,
    port: listening,
    close() {
      clearInterval(watching);
      for (const response of listeners) response.end();
      server.close();
      server.closeAllConnections();
    },
  };
}

/** The wished port, or the next that is free. On the loopback address only. */
function listenOn(server, port, tries = 50) {
  return new Promise((done, failed) => {
    const next = (error) =>
      error.code === 'EADDRINUSE' && tries-- > 0 ? server.listen(port === 0 ? 0 : ++port, '127.0.0.1') : failed(error);
    server.on('error', next);
    server.listen(port, '127.0.0.1', () => done(server.address().port));
  });
}

function boot(root, project) {
  const manifest = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
  const nls = JSON.parse(readFileSync(join(project, 'package.nls.json'), 'utf8'));
  const said = JSON.parse(
    JSON.stringify(manifest).replace(/"%([\w.]+)%"/g, (_, key) => JSON.stringify(nls[key] ?? key)),
  );
  for (const key of ['devDependencies', 'scripts', 'files', 'imports', 'bin', 'main']) delete said[key];
  return {
    name: basename(root) || 'log',
    first: firstLog(root),
    files: extensionFiles(project),
    manifest: said,
    settings: {},
  };
}

const firstLog = (root) =>
  ['nursery.graft', 'first-log.graft', 'log.graft'].find((name) => existsSync(join(root, name))) ?? null;

/** What the manifest names: the page sends these files and no others of the project. */
function extensionFiles(project) {
  const manifest = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8'));
  const named = [
    ...JSON.stringify(manifest.contributes).matchAll(
      /"(?:\.\/)?((?:client|grammar|examples)\/[\w./-]+\.(?:svg|png|json|md|graft))"/g,
    ),
  ].map((match) => match[1]);
  return [...new Set(['dist/web/client.js', 'dist/web/server.js', ...named])].filter((file) =>
    existsSync(join(project, file)),
  );
}

function sendFile(response, root, path, allowed) {
  const full = resolve(root, path);
  if (
    !full.startsWith(resolve(root) + sep) ||
    (allowed && !allowed.includes(path)) ||
    !existsSync(full) ||
    !statSync(full).isFile()
  )
    throw new Refused(404, 'Nothing here.');
  return send(response, readFileSync(full), extname(full));
}

function send(response, data, type = '') {
  response.writeHead(200, { 'content-type': types[type] ?? 'application/octet-stream' });
  response.end(data);
}

async function body(request) {
  const parts = [];
  let size = 0;
  for await (const part of request) {
    size += part.length;
    if (size > most) throw new Refused(403, 'A file over 64 MB is not a log.');
    parts.push(part);
  }
  return Buffer.concat(parts);
}
