import type { SemanticTokens, SemanticTokensDelta, SemanticTokensEdit } from 'vscode-languageserver';
import type { Range } from '#grammar/document.ts';
import { type Coloured, Colours, colouredLines, sameKinds } from './coloured-lines.ts';
import type { FileView, Slices } from './feature.ts';
import { asSent, type TokenNumbers } from './token-numbers.ts';

/**
 * The editor asks for all of a file's colours with every key. Of files longer than any season's log it gets those in
 * sight, so that a key never waits for the rest.
 */
const longest = 20_000;

/** What was last sent of each file that is open: after a key only what changed is sent. */
export class FileTokens {
  readonly #sent = new Map<string, Coloured>();
  #answers = 0;

  *full(view: FileView): Slices<SemanticTokens | null> {
    if (view.document.length > longest) return null;
    const { id, numbers } = yield* this.#coloured(view);
    return { resultId: id, data: asSent(numbers) };
  }

  *delta(view: FileView, previous: string): Slices<SemanticTokens | SemanticTokensDelta | null> {
    const before = this.#sent.get(view.uri);
    if (before?.id !== previous || view.document.length > longest) return yield* this.full(view);
    const { id, numbers } = yield* this.#coloured(view);
    return { resultId: id, edits: changes(before.numbers, numbers) };
  }

  closed(uri: string): void {
    this.#sent.delete(uri);
  }

  *#coloured({ document, root, file, uri }: FileView): Slices<Coloured> {
    const known = this.#sent.get(uri);
    const coloured = yield* colouredLines(
      document.entries.map(({ line }) => line),
      root,
      known && sameKinds(known.kinds, root) ? known : undefined,
      String(++this.#answers),
    );
    if (root.open.has(file)) this.#sent.set(uri, coloured);
    return coloured;
  }
}

function changes(before: TokenNumbers, now: TokenNumbers): SemanticTokensEdit[] {
  const most = Math.min(before.length, now.length);
  let start = 0;
  while (start < most && before[start] === now[start]) start++;
  if (start === before.length && start === now.length) return [];
  let same = 0;
  while (same < most - start && before[before.length - 1 - same] === now[now.length - 1 - same]) same++;
  const data = asSent(now.slice(start, now.length - same) as TokenNumbers);
  return [{ start, deleteCount: before.length - same - start, data }];
}

/** The colours of the lines in sight. */
export function tokensIn({ document, root }: FileView, { start, end }: Range): SemanticTokens {
  const first = Math.max(0, start.line);
  const colours = new Colours(root, new Map(), first);
  document.entries.slice(first, end.line + 1).forEach(({ line }, i) => {
    colours.push(first + i, line);
  });
  const data = Array.from(colours.numbers.subarray(0, colours.length));
  if (data[0] !== undefined) data[0] += first;
  return { data };
}
