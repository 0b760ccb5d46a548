import {
  type SemanticTokens,
  SemanticTokensBuilder,
  type SemanticTokensDelta,
  type SemanticTokensLegend,
} from 'vscode-languageserver';
import type { Range } from '#grammar/document.ts';
import type { Entry, NameKind } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';
import type { FileView, Slices } from './feature.ts';
import { type Is, piecesOf } from './line-pieces.ts';

/** What a piece of a line is, in words that every editor's colours know; the manifest names the grammar's scope for each. */
const types = {
  verb: 'keyword',
  fact: 'property',
  choice: 'enumMember',
  figure: 'number',
  text: 'string',
  remark: 'comment',
  joining: 'operator',
  plant: 'type',
  hand: 'parameter',
  batch: 'class',
  place: 'namespace',
  tree: 'struct',
  lot: 'interface',
} as const satisfies Readonly<Record<Exclude<Is, 'name' | 'declared name'> | NameKind, string>>;

const numbers = Object.fromEntries(Object.keys(types).map((is, i) => [is, i])) as Record<keyof typeof types, number>;
export const tokensLegend: SemanticTokensLegend = { tokenTypes: Object.values(types), tokenModifiers: ['declaration'] };
const declaration = 1;

/**
 * The editor asks for all of a file's colours with every key. Of files longer than any season's log it gets those in
 * sight, so that a key never waits for the rest.
 */
const longest = 20_000;

/** What was last sent of each file that is open: after a key only what changed is sent. */
export class FileTokens {
  readonly #sent = new Map<string, SemanticTokensBuilder>();

  *full(view: FileView): Slices<SemanticTokens | null> {
    if (view.document.length > longest) return null;
    const builder = new SemanticTokensBuilder();
    yield* this.#push(view, builder);
    return builder.build();
  }

  *delta(view: FileView, previous: string): Slices<SemanticTokens | SemanticTokensDelta | null> {
    const builder = this.#sent.get(view.uri);
    if (!builder || view.document.length > longest) return yield* this.full(view);
    builder.previousResult(previous);
    yield* this.#push(view, builder);
    return builder.buildEdits();
  }

  closed(uri: string): void {
    this.#sent.delete(uri);
  }

  *#push(view: FileView, builder: SemanticTokensBuilder): Slices<void> {
    // what is put by half way is no answer the next one could be told apart from
    this.#sent.delete(view.uri);
    const kindOf = kindsIn(view.root);
    for (let line = 0; line < view.document.length; line++) {
      if (line % 500 === 499) yield;
      pushLine(builder, line, view.document.entryAt(line), kindOf);
    }
    if (view.root.open.has(view.file)) this.#sent.set(view.uri, builder);
  }
}

/** The colours of the lines in sight. */
export function tokensIn({ document, root }: FileView, { start, end }: Range): SemanticTokens {
  const builder = new SemanticTokensBuilder();
  const kindOf = kindsIn(root);
  for (let line = Math.max(0, start.line); line <= Math.min(end.line, document.length - 1); line++)
    pushLine(builder, line, document.entryAt(line), kindOf);
  return builder.build();
}

type KindOf = (key: string) => NameKind | undefined;

/** Asked once a name; a batch that only its graft lines make is one, too. */
function kindsIn({ log }: Root): KindOf {
  const known = new Map<string, NameKind | undefined>();
  return (key) => {
    if (!known.has(key))
      known.set(key, log.names.declared(key)?.kind ?? (log.names.isBatch(key) ? 'batch' : undefined));
    return known.get(key);
  };
}

function pushLine(builder: SemanticTokensBuilder, line: number, entry: Entry | undefined, kindOf: KindOf): void {
  if (!entry) return;
  for (const { start, end, is, key } of piecesOf(entry.line)) {
    const kind = is === 'name' || is === 'declared name' ? kindOf(key ?? '') : is;
    if (kind) builder.push(line, start, end - start, numbers[kind], is === 'declared name' ? declaration : 0);
  }
}
