// The edits that reach farthest, and an evening of typing: what a key costs that isn't kind.
import { writeFileSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { usage } from './client.mjs';
import { at, median, opened } from './measure.mjs';
import { record } from './records.mjs';

/** @typedef {{ what: string, shown: number, deaf: number, cpu: number }} Edit */

/** @param {string[]} command @param {number} count @returns {Promise<Edit[]>} */
export async function worstEdits(command, count) {
  const text = record(count).replace('\n\n', '\npractice any open-every 30d..\n\n');
  const lines = text.split('\n');
  const lineOf = (/** @type {string} */ start) => lines.findIndex((line) => line.startsWith(start));
  const behind = (/** @type {number} */ line, /** @type {string} */ word) =>
    at(line, lines[line].indexOf(word) + word.length);
  const [site, place, practice, day] = [lineOf('site'), lineOf('place'), lineOf('practice'), lineOf('20')];
  const paste = record(10_000)
    .replaceAll(/\bK(?=\d)/g, 'P')
    .split('\n')
    .slice(3)
    .join('\n');
  const end = at(lines.length - 1);
  const pasted = at(end.line + paste.split('\n').length - 1);
  /** @type {[string, { start: object, end: object }, string][]} */
  const edits = [
    ['a key in `site`', { start: behind(site, 'lat 47.9'), end: behind(site, 'lat 47.9') }, '1'],
    [
      'a key in the `place` all stands in',
      { start: behind(place, 'capacity 1'), end: behind(place, 'capacity 1') },
      '2',
    ],
    ['a key in a `practice any` line', { start: behind(practice, 'every 3'), end: behind(practice, 'every 30') }, '5'],
    ['a key in the first day line', { start: at(day, 9), end: at(day, 10) }, '2'],
    ['10,000 lines pasted', { start: end, end }, paste],
    ['their undo', { start: end, end: pasted }, ''],
  ];
  /** @type {Edit[]} */
  const found = [];
  await opened(command, text, async (client, uri) => {
    const pid = client.child.pid ?? 0;
    const textDocument = { uri };
    /** All is settled when nothing has been worked on for a while; the longest wait meanwhile is how deaf it was. @param {string} what @param {() => Promise<number>} edit */
    const follow = async (what, edit) => {
      const before = usage(pid).cpu;
      const shown = await edit();
      let [deaf, quiet] = [0, 0];
      while (quiet < 12) {
        const used = usage(pid).cpu;
        const sent = performance.now();
        await client.request('textDocument/hover', { textDocument, position: at(0) });
        const waited = performance.now() - sent;
        deaf = Math.max(deaf, waited);
        await sleep(10);
        quiet = usage(pid).cpu - used < 3 ? quiet + 1 : 0;
      }
      found.push({ what, shown, deaf, cpu: usage(pid).cpu - before });
    };
    for (const [what, range, typed] of edits) await follow(what, () => client.type(uri, range, typed));
    const folder = fileURLToPath(uri.replace(/[^/]*$/, ''));
    const files = Array.from({ length: 50 }, (_, i) => {
      const name = `year-${i}.graft`;
      writeFileSync(
        `${folder}${name}`,
        record(count / 100, { slips: 10 })
          .replaceAll(/\bK(?=\d)/g, `Y${i}-`)
          .split('\n')
          .slice(3)
          .join('\n'),
      );
      return { uri: uri.replace(/[^/]*$/, name), type: 1 };
    });
    await follow('50 files come at once', async () => {
      const sent = performance.now();
      const last = new Promise((done) => {
        client.listening.push(({ uri: heard }) => heard === files[49].uri && done(undefined));
      });
      client.send({ method: 'workspace/didChangeWatchedFiles', params: { changes: files } });
      await Promise.race([last, sleep(60_000)]);
      return performance.now() - sent;
    });
  });
  return found;
}

/** Keys without a pause: time of a key and memory at a tenth and at the end. @param {string[]} command @param {number} count @param {number} keys */
export async function soak(command, count, keys) {
  const text = record(count);
  const lines = text.split('\n');
  const places = lines.flatMap((line, i) => (/^graft .*cut \d/.test(line) ? [i] : []));
  const found = { tenth: { key: 0, rss: 0 }, end: { key: 0, rss: 0 } };
  await opened(command, text, async (client, uri) => {
    /** @type {number[]} */
    let times = [];
    for (let i = 0; i < keys; i++) {
      const line = places[((i >> 1) * 37) % places.length];
      const from = at(line, lines[line].indexOf('cut ') + 4);
      const slip = i % 2 === 0;
      times.push(
        await client.type(uri, { start: from, end: slip ? from : at(line, from.character + 1) }, slip ? '9' : ''),
      );
      const rss = usage(client.child.pid ?? 0).rss;
      if (i === Math.floor(keys / 10) - 1) {
        found.tenth = { key: median(times), rss };
        times = [];
      }
      if (i === Math.floor((keys * 9) / 10)) times = [];
      if (i === keys - 1) found.end = { key: median(times), rss };
    }
  });
  return found;
}
