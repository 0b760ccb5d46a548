// `npm run bench`: the built server against the least a server can do, in turns, so that a ratio compares the same minutes.
// Nothing here is a test: a table of what was measured beside what is wanted. `npm run build -- --minify` first.
//   --sizes 1000,10000,100000   --rounds 3   --keys 20   --json FILE   --only keys,worst,soak,cold
import { existsSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { coldRows } from './cold.mjs';
import { measure, median } from './measure.mjs';
import { record } from './records.mjs';
import { soak, worstEdits } from './worst.mjs';

const { values } = parseArgs({
  options: {
    sizes: { type: 'string', default: '1000,10000,100000' },
    rounds: { type: 'string', default: '3' },
    keys: { type: 'string', default: '20' },
    json: { type: 'string' },
    only: { type: 'string', default: 'keys,worst,soak,cold' },
  },
});
const project = resolve(import.meta.dirname, '../..');
const server = join(project, 'dist/server.js');
const cli = join(project, 'dist/cli.js');
if (!existsSync(server) || !existsSync(cli)) {
  console.error('Nothing built yet: npm run build -- --minify');
  process.exit(1);
}
const own = [process.execPath, server, '--stdio'];
const floor = [process.execPath, join(import.meta.dirname, 'floor.mjs')];
const sizes = values.sizes.split(',').map(Number);
const only = new Set(values.only.split(','));
/** @type {Record<string, unknown>} */
const all = {};
/** @type {{ what: string, own: string, floor: string, ratio: number, bar: number }[]} */
const rows = [];

/** @param {number} value */
const ms = (value) => (value >= 100 ? value.toFixed(0) : value.toFixed(2));
/** @param {string} what @param {number} a @param {number} b @param {number} bar */
const row = (what, a, b, bar) => rows.push({ what, own: ms(a), floor: ms(b), ratio: a / b, bar });

if (only.has('keys')) {
  const middle = (/** @type {any[]} */ list, /** @type {(one: any) => number} */ of) => median(list.map(of));
  /** @type {Record<number, any[]>} */
  const bySize = {};
  for (const size of sizes) {
    const text = record(size);
    /** @type {any[][]} */
    const [ours, floors] = [[], []];
    for (let round = 0; round < Number(values.rounds); round++) {
      floors.push(await measure(floor, text, { keys: Number(values.keys), ask: true }));
      ours.push(await measure(own, text, { keys: Number(values.keys), ask: true }));
    }
    bySize[size] = ours;
    const name = size.toLocaleString('en');
    const pair = (/** @type {string} */ what, /** @type {(one: any) => number} */ of, /** @type {number} */ bar) =>
      row(`${what}, ${name}`, middle(ours, of), middle(floors, of), bar);
    pair('key, median ms', (one) => one.key, 1.5);
    pair('key, CPU ms', (one) => one.keyCpu, 1.5);
    pair('key, p95 ms', (one) => one.p95, 2);
    pair('after a burst, ms', (one) => one.burst, 2);
    pair('open, CPU ms', (one) => one.openCpu, size >= 100_000 ? 6 : Number.NaN);
    pair('start to first findings, ms', (one) => one.start + one.open, size === 1000 ? 1.7 : Number.NaN);
    const hover = middle(floors, (one) => one.requests.hover);
    for (const request of Object.keys(ours[0].requests)) {
      const inView = ['hover', 'completion', 'signatureHelp', 'codeLens', 'inlayHint'].includes(request);
      row(
        `${request}, ms, ${name}`,
        middle(ours, (one) => one.requests[request]),
        hover,
        inView ? 3 : Number.NaN,
      );
    }
    row(
      `longest deaf while opening, ms, ${name}`,
      middle(ours, (one) => one.deaf),
      50,
      1,
    );
    row(
      `memory a record, bytes, ${name}`,
      ((middle(ours, (one) => one.rss) - middle(floors, (one) => one.rss)) * 2 ** 20) / size,
      900,
      size >= 100_000 ? 1 : Number.NaN,
    );
    row(
      `peak over after open, MiB, ${name}`,
      middle(ours, (one) => one.peak),
      middle(ours, (one) => one.rss),
      1.3,
    );
    all[`keys ${size}`] = { ours, floors };
  }
  const [least, most] = [sizes[0] ?? 0, sizes.at(-1) ?? 0];
  if (most > least) {
    row(
      'growth of a key, median',
      middle(bySize[most], (one) => one.key),
      middle(bySize[least], (one) => one.key),
      1.3,
    );
    row(
      'growth of a key, CPU',
      middle(bySize[most], (one) => one.keyCpu),
      middle(bySize[least], (one) => one.keyCpu),
      1.3,
    );
  }
  for (const found of [1000, 10_000]) {
    const how = { keys: Number(values.keys), ask: false };
    const list = await measure([...floor, '--findings', '1000'], record(found, { slips: 1 }), how);
    const ours = await measure(own, record(found, { slips: 1 }), how);
    row(`key in a file of ${found.toLocaleString('en')} findings, median ms`, ours.key, list.key, 1.5);
  }
}
if (only.has('cold')) {
  const found = coldRows(cli, [100_000, 1_000_000]);
  for (const { what, own: a, floor: b } of found)
    row(`${what}, CPU ms`, a, b, what.startsWith('check, 10⁷') ? 1.3 : what.startsWith('check') ? 4.5 : Number.NaN);
  all.cold = found;
}
console.log('| what | own | floor | ratio | bar | met |\n|---|---:|---:|---:|---:|---|');
for (const { what, own: a, floor: b, ratio, bar } of rows)
  console.log(
    `| ${what} | ${a} | ${b} | ${ratio.toFixed(2)} | ${Number.isNaN(bar) ? '' : bar} | ${Number.isNaN(bar) ? '' : ratio <= bar ? 'yes' : 'no'} |`,
  );
if (only.has('worst')) {
  const size = sizes.at(-1) ?? 100_000;
  const edits = await worstEdits(own, size);
  console.log(
    `\n| edit, ${size.toLocaleString('en')} lines | findings shown, ms | longest deaf, ms | CPU, ms |\n|---|---:|---:|---:|`,
  );
  for (const { what, shown, deaf, cpu } of edits) console.log(`| ${what} | ${ms(shown)} | ${ms(deaf)} | ${ms(cpu)} |`);
  all.worst = edits;
}
if (only.has('soak')) {
  const { tenth, end } = await soak(own, 10_000, 30_000);
  console.log('\n| 30,000 keys without a pause, 10,000 lines | after a tenth | at the end |\n|---|---:|---:|');
  console.log(
    `| a key, median ms | ${ms(tenth.key)} | ${ms(end.key)} |\n| memory, MiB | ${ms(tenth.rss)} | ${ms(end.rss)} |`,
  );
  all.soak = { tenth, end };
}
all.rows = rows;
if (values.json) writeFileSync(values.json, JSON.stringify(all, undefined, 2));
