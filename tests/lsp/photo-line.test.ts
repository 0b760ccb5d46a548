import { describe, expect, test } from 'vitest';
import { photoLine } from '#server/lsp/photo-line.ts';
import type { PhotoResult } from '#server/lsp/protocol.ts';
import { startServer } from '../support/server.ts';
import { folderOf } from '../support/view.ts';

/** The line after pictures were dropped on it, or why it stays as it is. */
function dropped(line: string, ...files: string[]): string | null {
  return dropIn('2027.graft', line, ...files);
}

function dropIn(file: string, line: string, ...files: string[]): string | null {
  const found = photoLine(folderOf({ [file]: line }).view(file), 0, files);
  if (!found) return null;
  if ('why' in found) return found.why;
  return line.slice(0, found.character) + found.text + line.slice(found.character);
}

const check = '2027-04-06  check  K26.4  dry';

describe('a picture dropped on a line', () => {
  test('is written behind its facts, before its comment', () => {
    expect(dropped(`${check}  # so`, 'file:///log/2027/k26-4.jpg')).toBe(`${check}  photo "2027/k26-4.jpg"  # so`);
    expect(dropped(check, 'file:///log/a.JPG', 'file:///log/b%20%C3%BC.png')).toBe(
      `${check}  photo "a.JPG"  photo "b ü.png"`,
    );
  });

  test('by its path from the line’s own file', () => {
    expect(dropIn('2027/log.graft', check, 'file:///log/2027/a.jpg')).toBe(`${check}  photo "a.jpg"`);
    expect(dropIn('2027/log.graft', check, 'file:///log/photos/a.jpg')).toBe(`${check}  photo "../photos/a.jpg"`);
  });

  test('what lies outside the log’s folder is not written, however it is spelled', () => {
    const outside = 'A photo is written by its path in the log’s folder: put the picture into that folder first.';
    for (const uri of [
      'file:///elsewhere/a.jpg',
      'file:///log2/a.jpg',
      'file:///log/../a.jpg',
      'file:///log/%2E%2E/a.jpg',
      'file:///log/b%2F..%2F..%2Fa.jpg',
      'file:///log/b%5C..%5Ca.jpg',
      'file:///log/%E0%A4%A.jpg',
      'file:///log/a%0Ab.jpg',
      'https://example.org/log/a.jpg',
      'a.jpg',
    ])
      expect(dropped(check, uri), uri).toBe(outside);
  });

  test('only lines of work have photos, each once', () => {
    const where = 'A photo goes on a line of work: drop it on the line that says what was done or seen.';
    for (const line of ['', '2027-04-06', '# so', 'batch K26  Pinus mugo'])
      expect(dropped(line, 'file:///log/a.jpg'), line).toBe(where);
    expect(dropped(`${check}  photo "a.jpg"`, 'file:///log/a.jpg')).toBe('That photo stands on this line already.');
  });

  test('what is no picture is left to the editor; a name that can’t be read back is not written', () => {
    expect(dropped(check, 'file:///log/station.csv')).toBe(null);
    expect(dropped(check, `file:///log/${'a'.repeat(2000)}.jpg`)).toMatch(/can’t be written on this line/);
    expect(dropped(check, 'file:///log/a%22b.jpg')).toBe(`${check}  photo "a""b.jpg"`);
  });
});

test('over the protocol', async () => {
  const server = await startServer({ folder: 'file:///log', settings: { today: '2027-04-06' } });
  const uri = 'file:///log/2027.graft';
  await server.open(uri, check);
  const ask = (files: string[]) =>
    server.connection.sendRequest<PhotoResult>('graftlog/photo', { uri, line: 0, files });
  expect(await ask(['file:///log/a.jpg'])).toEqual({ line: 0, character: check.length, text: '  photo "a.jpg"' });
  expect(await ask(['file:///a.jpg'])).toMatchObject({ why: expect.stringContaining('folder') });
  expect(await server.stop()).toBe(0);
});
