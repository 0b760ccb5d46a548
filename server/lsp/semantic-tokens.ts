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
import { type Is, LinePieces } from './line-pieces.ts';

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
    const colours = new Colours(builder, view.root);
    for (const [line, entry] of view.document.entries.entries()) {
      if (line % 500 === 499) yield;
      colours.push(line, entry);
    }
    if (view.root.open.has(view.file)) this.#sent.set(view.uri, builder);
  }
}

/** The colours of the lines in sight. */
export function tokensIn({ document, root }: FileView, { start, end }: Range): SemanticTokens {
  const builder = new SemanticTokensBuilder();
  const colours = new Colours(builder, root);
  const first = Math.max(0, start.line);
  document.entries.slice(first, end.line + 1).forEach((entry, i) => {
    colours.push(first + i, entry);
  });
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

/** The colours of one line after another. */
class Colours {
  readonly #builder: SemanticTokensBuilder;
  readonly #kindOf: KindOf;
  readonly #pieces = new LinePieces();

  constructor(builder: SemanticTokensBuilder, root: Root) {
    this.#builder = builder;
    this.#kindOf = kindsIn(root);
  }

  push(line: number, entry: Entry): void {
    const pieces = this.#pieces;
    pieces.read(entry.line);
    for (let i = 0; i < pieces.count; i++) {
      const is = pieces.is[i] as Is;
      const kind = is === 'name' || is === 'declared name' ? this.#kindOf(pieces.key[i] ?? '') : is;
      if (!kind) continue;
      const start = pieces.start[i] as number;
      const modifiers = is === 'declared name' ? declaration : 0;
      this.#builder.push(line, start, (pieces.end[i] as number) - start, numbers[kind], modifiers);
    }
  }
}
