// Who may ask: this machine's browser, from this page. Another page in the same browser must not reach the grower's files.
import { timingSafeEqual } from 'node:crypto';
import { Refusal } from './place.mjs';

const policy = [
  "default-src 'self'",
  "script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:",
  "worker-src 'self' data: blob:",
  "frame-src 'self' data: blob:",
  "connect-src 'self' data: blob:",
  "font-src 'self' data: blob:",
  // The workbench's own name for pictures in its pages; its service worker answers it, nothing leaves the machine.
  "style-src 'self' 'unsafe-inline' https://*.vscode-resource.vscode-cdn.net",
  "img-src 'self' data: blob: https://*.vscode-resource.vscode-cdn.net",
  "form-action 'none'",
  "base-uri 'none'",
].join('; ');

/** Sent with every answer. */
export const headers = {
  'content-security-policy': policy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
};

/**
 * Checks host, origin, token and method of a request.
 * @param {import('node:http').IncomingMessage} request
 * @param {number} port
 * @param {string} token stands first in the path, so that relative addresses and event streams carry it, too
 * @returns {URL} the address without its token
 */
export function admit(request, port, token) {
  const { host, origin, 'sec-fetch-site': site } = request.headers;
  // A foreign name that was made to point at this machine arrives with that name as its host.
  if (host !== `127.0.0.1:${port}` && host !== `localhost:${port}`)
    throw new Refusal(403, 'This page answers to its own address only.');
  if (origin !== undefined && origin !== `http://${host}`) throw new Refusal(403, 'Another page may not ask here.');
  if (site !== undefined && site !== 'same-origin' && site !== 'none')
    throw new Refusal(403, 'Another page may not ask here.');
  const url = new URL(request.url ?? '/', `http://${host}`);
  const [, given = '', ...rest] = url.pathname.split('/');
  if (!sameText(given, token) || rest.length === 0)
    throw new Refusal(404, 'Nothing here. The address that npm start printed last is the one that works.');
  url.pathname = `/${rest.join('/')}`;
  const method = request.method ?? 'GET';
  if (method !== 'GET' && method !== 'PUT') throw new Refusal(405, 'Only GET and PUT are answered.');
  if (method === 'PUT' && origin === undefined) throw new Refusal(403, 'Writing is asked for by the page itself.');
  return url;
}

/**
 * @param {string} given
 * @param {string} token
 */
function sameText(given, token) {
  const [one, other] = [Buffer.from(given), Buffer.from(token)];
  return one.length === other.length && timingSafeEqual(one, other);
}
