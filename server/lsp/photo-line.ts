import { readLine } from '#grammar/line.ts';
import { verbRow } from '#grammar/vocabulary.ts';
import { entryAt, type FileView } from './feature.ts';
import type { PhotoResult } from './protocol.ts';

const picture = /\.(?:jpe?g|png|gif|webp|avif|heic|heif|tiff?|bmp)$/i;

/**
 * Pictures dropped on a line of work, written as its `photo`: by their path inside the log's folder, so that log and
 * pictures can be moved and copied together. Where that can't be, why not; nothing where none of it is a picture.
 */
export function photoLine(view: FileView, line: number, uris: readonly string[]): PhotoResult {
  const pictures = uris.filter((uri) => picture.test(uri.replace(/[?#].*$/, '')));
  if (pictures.length === 0) return null;
  const entry = entryAt(view, { line, character: 0 });
  const { statement, text = '', comment } = entry?.line ?? {};
  if (!statement || verbRow(statement.verb).kind !== 'work')
    return { why: 'A photo goes on a line of work: drop it on the line that says what was done or seen.' };
  const paths = pictures.map((uri) => pathIn(view, uri));
  if (paths.some((path) => path === undefined))
    return { why: 'A photo is written by its path in the log’s folder: put the picture into that folder first.' };
  const there = statement.facts.flatMap(({ key, value }) =>
    key === 'photo' && value.kind === 'text' ? [value.text] : [],
  );
  const fresh = [...new Set(paths)].filter((path) => path !== undefined).filter((path) => !there.includes(path));
  if (fresh.length === 0) return { why: 'That photo stands on this line already.' };
  const character = text.slice(0, comment?.start ?? text.length).trimEnd().length;
  const facts = fresh.map((path) => `  photo "${path.replaceAll('"', '""')}"`).join('');
  // what can't be read back as it is can't be told as a fact
  const written = readLine(text.slice(0, character) + facts + text.slice(character)).statement?.facts ?? [];
  const read = written.flatMap(({ key, value }) => (key === 'photo' && value.kind === 'text' ? [value.text] : []));
  if (!fresh.every((path) => read.includes(path)))
    return { why: 'The picture’s name can’t be written on this line: give it a plain name, and the line some room.' };
  return { line, character, text: facts };
}

/** Relative to the line's own file, as paths in a log are; nothing where it lies outside the log's folder, however spelled. */
function pathIn({ root, uri: file }: FileView, uri: string): string | undefined {
  const home = root.uri === file ? folderOf(file) : root.uri;
  const own = partsIn(home, folderOf(file));
  const parts = partsIn(home, uri.replace(/[?#].*$/, ''));
  if (!own || !parts) return undefined;
  let same = 0;
  while (same < own.length && same < parts.length - 1 && own[same] === parts[same]) same++;
  return [...own.slice(same).map(() => '..'), ...parts.slice(same)].join('/');
}

const folderOf = (uri: string): string => uri.slice(0, uri.lastIndexOf('/'));

/** The names that lead from a folder to an address under it. */
function partsIn(home: string, uri: string): string[] | undefined {
  if (uri === home) return [];
  if (!uri.startsWith(`${home}/`)) return undefined;
  try {
    const parts = uri
      .slice(home.length + 1)
      .split('/')
      .map(decodeURIComponent);
    const odd = parts.some((part) => /^\.{0,2}$|[/\\\u0000-\u001f\u007f]/.test(part));
    return odd ? undefined : parts;
  } catch {
    return undefined;
  }
}
