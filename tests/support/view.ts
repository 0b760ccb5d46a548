import type { Position, Range } from '#grammar/document.ts';
import type { FileView, Slices } from '#server/lsp/feature.ts';
import type { Host } from '#server/workspace/host.ts';
import { Root } from '#server/workspace/root.ts';
import { dayOf } from './log.ts';

/** A folder `log` with files by name, and the view of one of them that a request is answered from. */
export interface Folder {
  readonly root: Root;
  view(file?: string): FileView;
  /** `2026.graft 3: K26.1..11`: a place in the log and what stands there; of several lines the first and last. */
  text(uri: string, range: Range): string;
}

const first = 'log.graft';

export function folderOf(files: string | Readonly<Record<string, string>>, on = '2029-12-31'): Folder {
  const root = new Root('file:///log', { today: () => dayOf(on) } as unknown as Host, true);
  const texts = typeof files === 'string' ? { [first]: files.replace(/^\n/, '') } : files;
  for (const [file, text] of Object.entries(texts)) root.log.addFile(file, text);
  return {
    root,
    view(file = Object.keys(texts)[0] ?? first) {
      const document = root.log.document(file);
      if (!document) throw new Error(`no file ${file}`);
      return { root, uri: root.uriOf(file), file, document, theme: undefined };
    },
    text(uri, { start, end }) {
      const file = root.fileOf(uri);
      const lineOf = (line: number) => root.log.document(file)?.entryAt(line)?.line.text ?? '';
      const words =
        start.line === end.line
          ? lineOf(start.line).slice(start.character, end.character)
          : `${lineOf(start.line).slice(start.character)} … ${lineOf(end.line).slice(0, end.character)}`;
      return `${file === first ? '' : `${file} `}${start.line + 1}: ${words}`;
    },
  };
}

/** A log with `|` where the caret stands, without it. */
export function caretIn(text: string): { readonly text: string; readonly position: Position } {
  const log = text.replace(/^\n/, '');
  const lines = log.slice(0, log.indexOf('|')).split('\n');
  return {
    text: log.replace('|', ''),
    position: { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 },
  };
}

/** What a generator that yields in between answers in the end. */
export function answerOf<T>(working: Slices<T>): T {
  for (;;) {
    const step = working.next();
    if (step.done) return step.value;
  }
}
