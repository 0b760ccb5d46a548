// One server over one log, as a user feels it: opening, keys at three places, a burst, requests, memory.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { Client, usage } from './client.mjs';

/** Nearest rank. @param {number[]} values @param {number} share */
function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}
/** @param {number[]} values */
export const median = (values) => quantile(values, 0.5);

/** @param {number} line @param {number} character */
export const at = (line, character = 0) => ({ line, character });

/** A server with a log open in an empty folder. @param {string[]} command @param {string} text @param {(client: Client, uri: string) => Promise<void>} use */
export async function opened(command, text, use) {
  const folder = mkdtempSync(join(tmpdir(), 'graftlog-bench-'));
  const client = new Client(command);
  try {
    const root = pathToFileURL(folder).href;
    const start = await client.initialize(root);
    const uri = `${root}/record.graft`;
    const before = usage(client.child.pid ?? 0);
    const asked = performance.now();
    /** @type {number[]} */
    const deaf = [];
    let reading = true;
    const shown = client.open(uri, text).then(() => {
      reading = false;
    });
    // how long a question waits while the log is read: the server breathes between its slices
    const listening = (async () => {
      while (reading) {
        const sent = performance.now();
        await client.request('textDocument/hover', { textDocument: { uri: `${root}/other.graft` }, position: at(0) });
        deaf.push(performance.now() - sent);
        await sleep(2);
      }
    })();
    await shown;
    const open = performance.now() - asked;
    await listening;
    await sleep(400);
    const after = usage(client.child.pid ?? 0);
    await use(client, uri);
    const { peak } = usage(client.child.pid ?? 0);
    return { start, open, openCpu: after.cpu - before.cpu, deaf: Math.max(0, ...deaf), rss: after.rss, peak };
  } finally {
    await client.stop();
    rmSync(folder, { recursive: true });
  }
}

const wholeFile = ['documentSymbol', 'foldingRange', 'semanticTokens/full', 'formatting'];
const inView = ['hover', 'completion', 'signatureHelp', 'codeLens', 'inlayHint'];

/** @param {string[]} command @param {string} text @param {{ keys: number, ask: boolean }} how */
export async function measure(command, text, { keys, ask }) {
  const lines = text.split('\n');
  const places = lines.flatMap((line, i) => (/^graft .*cut \d/.test(line) ? [i] : []));
  const chosen = [places[0], places[places.length >> 1], places[places.length - 1]];
  /** @type {number[]} */
  const times = [];
  const figures = { keyCpu: 0, burst: 0, /** @type {Record<string, number>} */ requests: {} };
  const opening = await opened(command, text, async (client, uri) => {
    const pid = client.child.pid ?? 0;
    const columnOf = (/** @type {number} */ line) => lines[line].indexOf('cut ') + 4;
    const key = (/** @type {number} */ line, /** @type {boolean} */ slip) => {
      const from = at(line, columnOf(line));
      return client.type(uri, { start: from, end: slip ? from : at(line, from.character + 1) }, slip ? '9' : '');
    };
    const before = usage(pid).cpu;
    for (const line of chosen) {
      for (let i = 0; i < keys; i++) {
        const took = await key(line, i % 2 === 0);
        // the first two warm up
        if (i > 1) times.push(took);
        await sleep(20);
      }
    }
    await sleep(400);
    figures.keyCpu = (usage(pid).cpu - before) / (keys * chosen.length);
    let last = Promise.resolve(0);
    for (let i = 0; i < 8; i++) {
      last = key(chosen[1], i % 2 === 0);
      await sleep(40);
    }
    figures.burst = await last;
    if (!ask) return;
    const textDocument = { uri };
    const position = at(chosen[1], columnOf(chosen[1]));
    const range = { start: at(Math.max(0, chosen[1] - 25)), end: at(chosen[1] + 25) };
    const options = { tabSize: 2, insertSpaces: true };
    for (const name of [...inView, ...wholeFile]) {
      /** @type {number[]} */
      const took = [];
      for (let i = 0; i < 9; i++) {
        const sent = performance.now();
        await client.request(`textDocument/${name}`, { textDocument, position, range, options });
        took.push(performance.now() - sent);
      }
      figures.requests[name] = median(took);
    }
  });
  return { ...opening, ...figures, key: median(times), p95: quantile(times, 0.95) };
}
