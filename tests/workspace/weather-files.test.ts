import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import type { WeatherText } from '#server/engine/station-lines.ts';
import { weatherPath } from '#server/engine/weather-path.ts';
import type { Host } from '#server/workspace/host.ts';
import { WeatherFiles } from '#server/workspace/weather-files.ts';
import { Workspace } from '#server/workspace/workspace.ts';
import { dayOf } from '../support/log.ts';
import { mild } from '../support/weather.ts';

/* When files that a log names are read: once, when they are named, and when they changed. */

/** A folder in memory that counts what is asked of it. */
function memory(files: Record<string, string>) {
  const asked: string[] = [];
  let waiting: (() => void)[] = [];
  const host: Host = {
    list: async (root) => Object.keys(files).filter((uri) => uri.startsWith(root) && uri.endsWith('.graft')),
    read: async (uri) => files[uri],
    readNamed: async (_, uri, most): Promise<WeatherText> => {
      asked.push(uri);
      const text = files[uri];
      if (text === undefined) return { unread: 'missing' };
      return text.length > most ? { unread: 'large' } : { text };
    },
    today: () => dayOf('2026-12-01'),
    now: () => 0,
    later(_, run) {
      waiting.push(run);
      return () => {
        waiting = waiting.filter((other) => other !== run);
      };
    },
    pause: async () => {},
  };
  const rest = async () => {
    for (const run of waiting.splice(0)) run();
    await new Promise((done) => setImmediate(done));
  };
  return { host, asked, rest };
}

const log = `place  yard
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film
weather "station.csv"  in yard
2026-10-10  graft  A26.1..4  in yard
`;
const cold = mild('2026-10-01', '2026-12-31', { '2026-11-20': -3.1 });
const folder = 'memory:/log';

async function opened(files: Record<string, string> = {}) {
  const all: Record<string, string> = { [`${folder}/a.graft`]: log, [`${folder}/station.csv`]: cold, ...files };
  const world = memory(all);
  const workspace = new Workspace(world.host);
  const root = workspace.announceFolder(folder);
  await workspace.readFolder(root);
  await workspace.openText(`${folder}/a.graft`, 1, log);
  await world.rest();
  const codes = () => root.answers.findings().map(({ code }) => code);
  const typed = (line: number, from: number, to: number, text: string) =>
    workspace.changeText(`${folder}/a.graft`, 2, [
      { range: { start: { line, character: from }, end: { line, character: to } }, text },
    ]);
  return { ...world, all, workspace, root, codes, typed };
}

test('a key on any other line, and on the line itself beside its path, reads no file', async () => {
  const { asked, rest, codes, typed } = await opened();
  expect(asked).toEqual([`${folder}/station.csv`]);
  expect(codes()).toContain('froze');
  typed(3, 23, 24, '3');
  typed(1, 0, 0, '\n');
  typed(3, 22, 22, '  offset 1C');
  await rest();
  expect(codes()).toContain('froze');
  expect(asked).toEqual([`${folder}/station.csv`]);
});

test('a path that is typed is read once the hand rests, not with each key', async () => {
  const { asked, rest, codes, typed } = await opened({ [`${folder}/other.csv`]: mild('2026-10-01', '2026-12-31') });
  typed(2, 9, 16, '');
  for (const [i, letter] of [...'other'].entries()) typed(2, 9 + i, 9 + i, letter);
  // of a file that isn't read yet nothing is said
  expect(codes()).not.toContain('unreadable');
  expect(codes()).not.toContain('froze');
  expect(asked).toHaveLength(1);
  await rest();
  expect(asked).toEqual([`${folder}/station.csv`, `${folder}/other.csv`]);
  expect(codes()).not.toContain('froze');
});

test('a file that changed is read again; one that reads the same changes nothing', async () => {
  const { asked, all, workspace, root, codes } = await opened();
  let told = 0;
  workspace.onRead = () => told++;
  await workspace.fileChanged(`${folder}/station.csv`);
  expect(asked).toHaveLength(2);
  expect(told).toBe(0);
  all[`${folder}/station.csv`] = mild('2026-10-01', '2026-12-31');
  await workspace.fileChanged(`${folder}/station.csv`);
  expect(told).toBe(1);
  expect(codes()).not.toContain('froze');
  // changed while its line was being typed anew
  root.edit('a.graft', { start: { line: 2, character: 0 }, end: { line: 2, character: 7 } }, 'waether');
  all[`${folder}/station.csv`] = cold;
  await workspace.fileChanged(`${folder}/station.csv`);
  root.edit('a.graft', { start: { line: 2, character: 0 }, end: { line: 2, character: 7 } }, 'weather');
  await root.readWeather();
  expect(codes()).toContain('froze');
  // a line that is gone lets its file go
  root.edit('a.graft', { start: { line: 2, character: 0 }, end: { line: 3, character: 0 } }, '');
  await root.weather.read();
  expect(await root.weather.changed(`${folder}/station.csv`)).toBe(false);
  expect(asked).toHaveLength(4);
});

test('whatever is typed and whatever changes on the disk, it ends as the folder read anew', async () => {
  const texts = [cold, mild('2026-10-01', '2026-12-31'), 'Tag;Min\n1.1.2026;3\n', undefined];
  const step = fc.oneof(
    fc.record({
      line: fc.integer({ min: 0, max: 5 }),
      text: fc.constantFrom(
        ...['weather "station.csv"  in yard', 'weather "other.csv"  offset -1C', 'weather "../out.csv"', ''],
        ...['place  yard  frost-free', '2026-10-12  reading  yard  min 3C', 'site  Lane  lat 48'],
      ),
    }),
    fc.record({ name: fc.constantFrom('station.csv', 'other.csv'), to: fc.constantFrom(...texts) }),
    fc.constant('rest' as const),
  );
  const found = ({ answers }: { answers: Answers }) =>
    answers.findings().map(({ code, message, entry }) => `${entry.line.text} | ${code} ${message}`);
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 8 }), async (steps) => {
      const { all, rest, workspace, root, typed } = await opened();
      for (const one of steps) {
        if (one === 'rest') await rest();
        else if ('line' in one) {
          const old = root.log.document('a.graft')?.entries[one.line]?.line.text ?? '';
          typed(one.line, 0, old.length, one.text);
        } else {
          const uri = `${folder}/${one.name}`;
          if (one.to === undefined) delete all[uri];
          else all[uri] = one.to;
          await workspace.fileChanged(uri);
        }
        found(root);
      }
      await rest();
      all[`${folder}/a.graft`] = root.log.document('a.graft')?.text() ?? '';
      const anew = new Workspace(memory(all).host);
      const again = anew.announceFolder(folder);
      await anew.readFolder(again);
      expect(found(root)).toEqual(found(again));
    }),
    { numRuns: 60 },
  );
});

test('all files of a log together are no more than may be read', async () => {
  const named = new Log();
  named.addFile('a.graft', Array.from({ length: 6 }, (_, i) => `weather "${i}.csv"`).join('\n'));
  const most: number[] = [];
  const files = new WeatherFiles(
    {
      readNamed: async (_root, _uri, room) => {
        most.push(room);
        // as large as may be: sixty million signs, without taking their room
        return { text: { length: 60e6, includes: () => false } as unknown as string };
      },
    },
    () => named.all('weather'),
    (entry) => ({ root: folder, uri: `${folder}/${weatherPath(entry)}` }),
  );
  await files.read();
  expect(most).toEqual([64e6, 64e6, 64e6, 64e6, 16e6, 0]);
});

test('whatever comes first, the newest text of a file holds', async () => {
  await fc.assert(
    fc.asyncProperty(fc.scheduler(), fc.integer({ min: 1, max: 4 }), async (order, changes) => {
      const named = new Log();
      named.addFile('a.graft', 'weather "station.csv"\n');
      const [entry] = named.all('weather');
      let version = 0;
      const files = new WeatherFiles(
        {
          readNamed: () => {
            const text = `${version}`;
            return order.schedule(Promise.resolve({ text }));
          },
        },
        () => named.all('weather'),
        () => ({ root: folder, uri: `${folder}/station.csv` }),
      );
      const reading: Promise<boolean>[] = [files.read()];
      for (; version < changes; ) {
        version++;
        reading.push(files.changed(`${folder}/station.csv`));
      }
      await order.waitAll();
      await Promise.all(reading);
      expect(entry && files.texts(entry)).toEqual({ text: `${changes}` });
    }),
  );
});
