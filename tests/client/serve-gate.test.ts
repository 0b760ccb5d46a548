import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { expect, test } from 'vitest';
import { servedFolder } from './served-folder.ts';

test('the page and its folder answer to this machine’s browser', async () => {
  const { ask, get, port } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  expect(await ask('/')).toMatchObject({ status: 200, text: '<!doctype html>the page' });
  expect(await ask('/', { headers: { host: `localhost:${port}` } })).toMatchObject({ status: 200 });
  expect(await ask('/', { headers: { 'sec-fetch-site': 'same-origin' } })).toMatchObject({ status: 200 });
  expect(await get('read', '/2026.graft')).toMatchObject({ status: 200, text: 'graft A1.1\n' });
  const boot = JSON.parse((await ask('/boot')).text);
  expect(boot).toMatchObject({ name: 'log', first: '2026.graft', manifest: { name: 'p' } });
  expect(boot.manifest.scripts).toBeUndefined();
});

test.each([
  ['another host name that leads here', { host: 'logs.example:80' }],
  ['its own name with another port', { host: '127.0.0.1:1' }],
  ['another page in the browser', { origin: 'http://logs.example' }],
  ['a page that hides where it comes from', { origin: 'null' }],
  ['a page on another port of this machine', { origin: 'http://127.0.0.1:1' }],
  ['a request that another site set off', { 'sec-fetch-site': 'cross-site' }],
  ['a request from a neighbour of the same site', { 'sec-fetch-site': 'same-site' }],
])('refused: %s', async (_, headers) => {
  const { ask } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  for (const path of ['/', '/boot', '/events', '/fs/read?path=/2026.graft']) {
    const answer = await ask(path, { headers });
    expect(answer.status).toBe(403);
    expect(answer.text).not.toContain('A1.1');
  }
});

test('without the token of this start nothing is told', async () => {
  const { ask, token } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const wrong = [
    '/',
    `/${token}`,
    `/${'0'.repeat(32)}/`,
    `/${'0'.repeat(32)}/fs/read?path=/2026.graft`,
    `/${token.slice(0, -1)}/`,
    `/x/${token}/`,
    `//${token}/`,
  ];
  for (const whole of wrong) expect(await ask('', { whole })).toMatchObject({ status: 404 });
});

test('only reading and the page’s own writing are answered', async () => {
  const { ask, get, port } = await servedFolder({ '2026.graft': 'graft A1.1\n' });
  const write = '/fs/write?path=/2026.graft';
  const own = { origin: `http://127.0.0.1:${port}` };
  const { version } = JSON.parse((await get('stat', '/2026.graft')).text);
  const seen = { 'if-match': version };
  expect(await ask(write, { method: 'POST', headers: { ...own, ...seen } })).toMatchObject({ status: 405 });
  expect(await ask(write, { method: 'GET', headers: { ...own, ...seen } })).toMatchObject({ status: 404 });
  expect(await ask(write, { method: 'PUT', headers: seen })).toMatchObject({ status: 403 });
  expect(await ask('/boot', { method: 'PUT', headers: own })).toMatchObject({ status: 405 });
  expect(await get('read', '/2026.graft')).toMatchObject({ text: 'graft A1.1\n' });
});

test('of the project only what the manifest names is sent', async () => {
  const { ask } = await servedFolder({});
  expect(await ask('/ext/client/images/a.svg')).toMatchObject({ status: 200, text: '<svg/>' });
  for (const path of ['/ext/secret.json', '/ext/package.json', '/ext/../outside.graft', '/ext/..%2foutside.graft'])
    expect(await ask(path)).toMatchObject({ status: 404 });
  for (const path of ['/%2e%2e/outside.graft', '/..%2foutside.graft', '/%2e%2e%2foutside.graft'])
    expect((await ask(path)).status).toBeOneOf([403, 404]);
});

test('the page may load nothing from elsewhere', async () => {
  const { ask } = await servedFolder({});
  const { headers } = await ask('/');
  expect(headers['content-security-policy']).toContain("default-src 'self'");
  expect(headers['content-security-policy']).toContain("connect-src 'self' data: blob:;");
  expect(headers).toMatchObject({
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cache-control': 'no-store',
  });
});

test('other machines reach no door', async () => {
  const { port } = await servedFolder({});
  const others = Object.values(networkInterfaces())
    .flat()
    .filter((one) => one?.family === 'IPv4' && !one.internal);
  const reaches = (host: string) =>
    new Promise((done) => {
      const socket = connect({ host, port, timeout: 2000 });
      const end = (reached: boolean) => () => {
        socket.destroy();
        done(reached);
      };
      socket.on('connect', end(true)).on('error', end(false)).on('timeout', end(false));
    });
  expect(await reaches('127.0.0.1')).toBe(true);
  for (const other of others) expect(await reaches(other?.address ?? '')).toBe(false);
});
