import type { Entry } from './model.ts';

/** The file a `weather` line names, relative to the log's root as the line's own file is; nothing where it isn't read. */
export function weatherPath(entry: Entry): string | undefined {
  const path = namedPath(entry);
  return path === undefined ? undefined : pathInLog(entry, path);
}

/**
 * A path that a line names: relative to the log's root, with `/`, as the line's own file is. Nothing where it leads out
 * of the root, or begins at another one (`/`, `C:`, `https:`): such a path is never read and never opened.
 */
export function pathInLog(entry: Pick<Entry, 'file'>, named: string): string | undefined {
  const path = named.replaceAll('\\', '/');
  if (path.startsWith('/') || /^[\p{L}][\p{L}\d+.-]*:/u.test(path) || path.includes('\0')) return undefined;
  const parts = entry.file.split('/').slice(0, -1);
  for (const part of path.split('/')) {
    if (part === '' || part === '.') continue;
    if (part !== '..') {
      parts.push(part);
      continue;
    }
    // a file given from outside the working folder begins with `..` itself
    const left = parts.pop();
    if (left === undefined || left === '..') return undefined;
  }
  return parts.length > 0 ? parts.join('/') : undefined;
}

/** As it is written; nothing on a line that names no file. */
export function namedPath({ line: { statement } }: Entry): string | undefined {
  if (statement?.verb !== 'weather' || statement.idle) return undefined;
  const text = statement.remark?.text.trim();
  return text ? text : undefined;
}
