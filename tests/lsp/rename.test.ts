import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TextDocumentEdit, TextEdit } from 'vscode-languageserver';
import { reservedWords } from '#grammar/vocabulary.ts';
import { namesIn } from '#server/lsp/name-at.ts';
import { prepareRename, rename } from '#server/lsp/rename.ts';
import { edited } from '../support/edited.ts';
import { anyLog } from '../support/lines.ts';
import { findingsText, logOf } from '../support/log.ts';
import { answerOf, caretIn, type Folder, folderOf } from '../support/view.ts';

const options = { prepares: true, versions: true, annotations: true };

/** Renames at the `|` and gives the files with all edits made, but for those that ask first (marked with `why`). */
function renamed(files: Readonly<Record<string, string>>, newName: string, made: readonly string[] = ['name']) {
  const at = Object.keys(files).find((file) => files[file]?.includes('|')) ?? '';
  const { text, position } = caretIn(files[at] ?? '');
  const folder = folderOf({ ...files, [at]: text });
  const edit = answerOf(rename(folder.view(at), position, newName, options, async () => {}));
  return { ...edit, texts: textsAfter(folder, (edit?.documentChanges ?? []) as TextDocumentEdit[], made) };
}

function textsAfter(folder: Folder, changes: readonly TextDocumentEdit[], made: readonly string[]) {
  const texts = Object.fromEntries(
    folder.root.log.fileNames.map((file) => [file, folder.root.log.document(file)?.text() ?? '']),
  );
  for (const { textDocument, edits } of changes) {
    const file = folder.root.fileOf(textDocument.uri);
    const wanted = edits.filter((edit) => 'annotationId' in edit && made.includes(edit.annotationId));
    texts[file] = edited(texts[file] ?? '', wanted as TextEdit[]);
  }
  return texts;
}

/** The sentence a refusal is shown with. */
function whyNot(ask: () => unknown): string {
  try {
    ask();
  } catch (error) {
    return (error as Error).message;
  }
  return 'not refused';
}

const nursery = `place frame  frost-free
tree T3  Pinus mugo  in frame
batch K26  Pinus mugo / Pinus mugo  in frame  by mk
batch B26  like K26
accept cut-deep,open-soon  K26.3 B26  "K26 knows why"`;
const season = `2026-09-28 collect L7  Pinus mugo  from T3
2026-10-09
graft K26.1..11,14  lot L7  by mk, jo  # K26 and k26.3 first
graft B26.1  onto T3  in frame
open  B26 k26.1-4, 6 except K26.3,K26.4  10%
`;

describe('rename', () => {
  test('a batch, in all files: as target, left out, liked and accepted; its numbers stay', () => {
    const { texts, changeAnnotations } = renamed(
      { 'nursery.graft': nursery, '2026.graft': season.replace('graft K26', 'graft K|26') },
      'Kiefer-1',
    );
    expect(texts['nursery.graft']?.split('\n').slice(2)).toEqual([
      'batch Kiefer-1  Pinus mugo / Pinus mugo  in frame  by mk',
      'batch B26  like Kiefer-1',
      'accept cut-deep,open-soon  Kiefer-1.3 B26  "K26 knows why"',
    ]);
    expect(texts['2026.graft']?.split('\n').slice(2, 5)).toEqual([
      'graft Kiefer-1.1..11,14  lot L7  by mk, jo  # K26 and k26.3 first',
      'graft B26.1  onto T3  in frame',
      'open  B26 Kiefer-1.1-4, 6 except Kiefer-1.3,Kiefer-1.4  10%',
    ]);
    expect(changeAnnotations).toEqual({
      name: { label: 'Rename K26 to Kiefer-1', description: '7 places in 2 files' },
      remark: {
        label: 'K26 in remarks and comments',
        description: 'The same word in free text: is it the same thing?',
        needsConfirmation: true,
      },
    });
  });
  test('in free text it is asked about, and a plain small word is left alone there', () => {
    const { texts } = renamed({ '2026.graft': season.replace('graft K26', 'graft K|26') }, 'M1', ['name', 'remark']);
    expect(texts['2026.graft']).toContain('# M1 and M1.3 first');
    const place = renamed({ 'a.graft': 'place fr|ame  # cold frame\nopne frame' }, 'pit');
    expect(place.texts).toEqual({ 'a.graft': 'place pit  # cold frame\nopne frame' });
    expect(place.changeAnnotations).not.toHaveProperty('remark');
  });
  test('place, tree, lot and hand', () => {
    const files = { 'nursery.graft': nursery, '2026.graft': season };
    const renameIn = (from: string, to: string, name: string) => {
      const file = nursery.includes(from) ? 'nursery.graft' : '2026.graft';
      const { texts } = renamed({ ...files, [file]: files[file].replace(from, to) }, name);
      return Object.values(texts).join('\n');
    };
    expect(renameIn('place frame', 'place fra|me', 'pit').match(/pit|frame/g)).toEqual(['pit', 'pit', 'pit', 'pit']);
    expect(renameIn('tree T3', 'tree T|3', 'T4').match(/T[34]/g)).toEqual(['T4', 'T4', 'T4']);
    expect(renameIn('collect L7', 'collect L|7', 'L8').match(/L\d/g)).toEqual(['L8', 'L8']);
    expect(renameIn('mk, jo', 'm|k, jo', 'O’Brien').match(/by .*$/gm)).toEqual([
      'by O’Brien',
      'by O’Brien, jo  # K26 and k26.3 first',
    ]);
  });
  test('another spelling of the same name is no other name', () => {
    expect(renamed({ 'a.graft': 'batch k|26\n2026-10-09 graft K26.1' }, 'K26').texts).toEqual({
      'a.graft': 'batch K26\n2026-10-09 graft K26.1',
    });
  });
  test('a copy of a file is renamed with it, and stays a copy', () => {
    const text = 'batch K26\n2026-10-09 graft K26.1';
    const { texts } = renamed({ 'a.graft': text.replace('K26', 'K|26'), 'a (1).graft': text }, 'K27');
    expect(texts['a (1).graft']).toBe(texts['a.graft']);
    expect(texts['a.graft']).toBe('batch K27\n2026-10-09 graft K27.1');
  });
  test('two hands become one only if the grower says so', () => {
    const { changeAnnotations } = renamed({ 'a.graft': 'batch K26 by m|k\n2026-10-09 graft K26.1 by jo' }, 'jo');
    expect(changeAnnotations?.name).toEqual({
      label: 'Rename mk to jo',
      description: '`jo` has 1 line of work already: both would be one hand, and can’t be told apart again.',
      needsConfirmation: true,
    });
  });
  test('files that aren’t open are read from the disk again first', () => {
    const folder = folderOf({ 'a.graft': 'batch K26', 'b.graft': '2026-10-09 graft K26.1' });
    folder.root.open.set('a.graft', 7);
    const read: string[] = [];
    const working = rename(folder.view('a.graft'), { line: 0, character: 7 }, 'K27', options, async (uri) => {
      read.push(uri);
      folder.root.log.addFile('b.graft', '\n\n2026-10-09 graft K26.1');
    });
    const edit = answerOf(working);
    expect(read).toEqual(['file:///log/b.graft']);
    expect(edit?.documentChanges).toMatchObject([
      { textDocument: { version: 7 } },
      { textDocument: { version: null }, edits: [{ range: { start: { line: 2 } } }] },
    ]);
  });
  test('a file that could not be read keeps the old name: that is asked about', () => {
    const folder = folderOf('batch K26');
    folder.root.unread.add('2025.graft');
    const edit = answerOf(rename(folder.view(), { line: 0, character: 7 }, 'K27', options, async () => {}));
    expect(edit?.changeAnnotations?.name).toEqual({
      label: 'Rename K26 to K27',
      description: '2025.graft could not be read and would keep the old name.',
      needsConfirmation: true,
    });
  });
  test('a folder that is still being read is waited for', () => {
    const folder = folderOf('batch K26');
    folder.root.loading = true;
    const working = rename(folder.view(), { line: 0, character: 7 }, 'K27', options, async () => {});
    expect(working.next()).toMatchObject({ done: false, value: expect.any(Promise) });
    folder.root.stopped = true;
    expect(whyNot(() => working.next())).toMatch(/^The folder was not read to its end/);
  });
});

describe('what can’t be renamed says why', () => {
  const prepared = (line: string) => {
    const { text, position } = caretIn(line);
    return whyNot(() => prepareRename(folderOf(text).view(), position));
  };
  test('where no name stands', () => {
    expect(prepared('2026-10-09 graft K26.1|2')).toBe(
      'A graft’s number is for life: the label says it, too. To rename the batch, stand on `K26`.',
    );
    expect(prepared('2026-10-09 gra|ft K26.12')).toMatch(/^`graft` says the same in every log\./);
    expect(prepared('2026-10-09 graft K26.12 cu|t 40%')).toMatch(/^`cut 40%` says the same in every log\./);
    expect(prepared('batch K26 Pinus mu|go')).toMatch(/^A plant is named on each line/);
    expect(prepared('site Drumlin-L|ane')).toBe('The site’s name stands on this line alone: type over it.');
    expect(prepared('# remarks| only')).toMatch(/^Batches, places, trees, lots and hands/);
    expect(prepared('|')).toMatch(/^Batches, places, trees, lots and hands/);
  });
  test('the new name: unreadable, a word of the notation, taken', () => {
    const to = (name: string, text = 'batch K|26\nplace frame\n2026-10-09 graft M1.1') =>
      whyNot(() => renamed({ 'a.graft': text }, name));
    expect(to('cold frame')).toMatch(/^`cold frame` can’t be a name: .*, such as `cold-frame`\.$/);
    expect(to('2601')).toMatch(/^`2601` can’t be a name/);
    expect(to('')).toMatch(/^`` can’t be a name/);
    expect(to('open')).toBe('`open` is a word of the notation: give it a name of its own, such as `open-1`.');
    expect(to('Frame')).toBe('`frame` is a place of this log: a name is kept for life, and two never become one.');
    expect(to('m1')).toBe('`m1` stands on 1 line already: a name is kept for life, and two never become one.');
  });
  test('a line that would be read otherwise, with the line', () => {
    expect(whyNot(() => renamed({ 'a.graft': 'batch K|26\n2026-10-09 graft K26 x4' }, 'x60'))).toMatch(
      /^As `x60` it would be read otherwise on line 1 of a\.graft: `batch K26`\./,
    );
  });
});

test('renamed and back, a log is what it was, and says the same of itself in between', () => {
  fc.assert(
    fc.property(anyLog, fc.nat(), (text, pick) => {
      const folder = folderOf({ 'a.graft': text });
      const placesOf = (of: Folder) =>
        of
          .view()
          .document.entries.flatMap(({ line: { statement } }, line) =>
            statement ? namesIn(statement).map(({ name }) => ({ line, name })) : [],
          );
      const which = pick % Math.max(1, placesOf(folder).length);
      const before = placesOf(folder)[which];
      // what is called by a word of the notation can get a name, but not have that one back
      fc.pre(before !== undefined && !reservedWords.has(before.name.key));
      const to = (name: string, of: Folder) => {
        const place = placesOf(of)[which];
        const position = { line: place?.line ?? 0, character: place?.name.span.start ?? 0 };
        const edit = answerOf(rename(of.view(), position, name, options, async () => {}));
        return textsAfter(of, (edit?.documentChanges ?? []) as TextDocumentEdit[], ['name'])['a.graft'] ?? '';
      };
      const after = to('Zwerg-Kiefer', folder);
      const codes = (log: string) => findingsText(logOf({ 'a.graft': log })).join('\n');
      expect(codes(after)).toBe(codes(folder.view().document.text()));
      expect(after).toContain('Zwerg-Kiefer');
      const back = to(before.name.text, folderOf({ 'a.graft': after }));
      expect(back.toLowerCase()).toBe(folder.view().document.text().toLowerCase());
    }),
    { numRuns: 300 },
  );
});
