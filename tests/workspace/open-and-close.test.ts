import { describe, expect, test } from 'vitest';
import type { Host } from '#server/workspace/host.ts';
import { Workspace } from '#server/workspace/workspace.ts';
import { memoryHost } from '../support/hosted-server.ts';

const folder = 'file:///logs';
const uri = `${folder}/log.graft`;
const onDisk = 'batch K26  Pinus mugo\n';
const long = `batch K26  Pinus mugo\n${'check K26 green\n'.repeat(1500)}`;
const typed = (text: string) => [{ range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }, text }];

/** A long text is opened, in slices that each wait their turn; in the n-th pause something happens. */
async function openedLong(at: string, n: number, happens: (workspace: Workspace) => Promise<unknown>) {
  let clock = 0;
  let pauses = 0;
  let meanwhile: Promise<unknown> | undefined;
  let opening = false;
  const host: Host = {
    ...memoryHost(new Map([[uri, onDisk]])),
    now: () => (clock += 100),
    pause: async () => {
      if (opening && ++pauses === n) meanwhile = happens(workspace);
      await new Promise((done) => setImmediate(done));
    },
  };
  const workspace = new Workspace(host);
  await workspace.readFolder(workspace.announceFolder(folder));
  opening = true;
  const open = workspace.openText(at, 1, long);
  workspace.changeText(at, 2, typed('# typed\n'));
  await open;
  await meanwhile;
  const root = workspace.rootOf(at);
  return { happened: meanwhile !== undefined, text: root?.log.document(root.fileOf(at))?.text() };
}

/** The text that stands at the end, whichever pause it happens in. */
async function inEachPause(at: string, happens: (workspace: Workspace) => Promise<unknown>) {
  const texts = new Set<string | undefined>();
  // the first pause comes before anything is typed
  let n = 2;
  for (; ; n++) {
    const { happened, text } = await openedLong(at, n, happens);
    if (!happened) break;
    texts.add(text);
  }
  expect(n).toBeGreaterThan(8);
  return [...texts];
}

describe('while a long text is being taken in', () => {
  const alone = 'untitled:log.graft';

  test('what is typed is in it at the end', async () => {
    expect((await openedLong(uri, 0, async () => {})).text).toBe(`# typed\n${long}`);
  });

  test('it is closed unsaved: the file on disk holds, and nothing that was typed', async () => {
    expect(await inEachPause(uri, (workspace) => workspace.closeText(uri))).toEqual([onDisk]);
    expect(await inEachPause(alone, (workspace) => workspace.closeText(alone))).toEqual([undefined]);
  });

  test.each([uri, alone])('%s is closed and opened again: the newer text holds', async (at) => {
    const again = (workspace: Workspace) => {
      const close = workspace.closeText(at);
      const open = workspace.openText(at, 1, 'batch K27  Pinus mugo\n');
      workspace.changeText(at, 2, typed('# again\n'));
      return Promise.all([close, open]);
    };
    expect(await inEachPause(at, again)).toEqual(['# again\nbatch K27  Pinus mugo\n']);
  });
});

describe('a file of a folder that was read, when it is opened', () => {
  async function opened(text: string) {
    const workspace = new Workspace(memoryHost(new Map([[uri, onDisk]])));
    const root = workspace.announceFolder(folder);
    await workspace.readFolder(root);
    const line = root.log.document('log.graft')?.entries[0];
    await workspace.openText(uri, 1, text);
    const document = root.log.document('log.graft');
    return { again: document?.entries[0] !== line, version: root.open.get('log.graft'), text: document?.text() };
  }

  test('is not read again where it is the same, whatever its line ends', async () => {
    expect(await opened(onDisk)).toEqual({ again: false, version: 1, text: onDisk });
    expect(await opened(onDisk.replace('\n', '\r\n'))).toMatchObject({ again: false });
  });

  test('is read where it is another', async () => {
    expect(await opened(`${onDisk} `)).toEqual({ again: true, version: 1, text: `${onDisk} ` });
    expect(await opened(`\uFEFF${onDisk}`)).toMatchObject({ again: true });
  });
});
