import type { SemanticTokensLegend } from 'vscode-languageserver';
import type { Line } from '#grammar/statement.ts';
import type { NameKind } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Slices } from './feature.ts';
import { type Is, LinePieces } from './line-pieces.ts';
import { TokenNumbers } from './token-numbers.ts';
import { unchanged } from './unchanged.ts';

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

const numbered = Object.fromEntries(Object.keys(types).map((is, i) => [is, i])) as Record<keyof typeof types, number>;
export const tokensLegend: SemanticTokensLegend = { tokenTypes: Object.values(types), tokenModifiers: ['declaration'] };
const declaration = 1;

/** The colours of a file, with the lines they were read from: after a key only the lines that changed are read. */
export interface Coloured {
  readonly id: string;
  readonly lines: readonly Line[];
  /** Where the numbers of each line begin; last, where they end. */
  readonly starts: Uint32Array;
  readonly numbers: TokenNumbers;
  /** What each of its names was then. */
  readonly kinds: Kinds;
}

/** Lines that stand above and below those that changed keep their numbers, but for how far the first piece below is down. */
export function* colouredLines(
  lines: readonly Line[],
  root: Root,
  known: Coloured = { id: '', lines: [], starts: new Uint32Array(1), numbers: new TokenNumbers(0), kinds: new Map() },
  id: string,
): Slices<Coloured> {
  const [above, below] = unchanged(known.lines, lines);
  const { kinds } = known;
  const starts = new Uint32Array(lines.length + 1);
  starts.set(known.starts.subarray(0, above + 1));
  const begin = starts[above] as number;
  const colours = new Colours(root, kinds, lastColoured(starts, above));
  const end = lines.length - below;
  for (let line = above; line < end; line++) {
    if (line % 500 === 499) yield;
    colours.push(line, lines[line] as Line);
    starts[line + 1] = begin + colours.length;
  }
  const from = known.starts[known.lines.length - below] as number;
  const moved = (starts[end] as number) - from;
  for (let line = end + 1; line <= lines.length; line++)
    starts[line] = (known.starts[line + known.lines.length - lines.length] as number) + moved;
  const numbers = new TokenNumbers(starts[lines.length] as number);
  numbers.set(known.numbers.subarray(0, begin));
  numbers.set(colours.numbers.subarray(0, colours.length), begin);
  numbers.set(known.numbers.subarray(from), starts[end]);
  let first = end;
  while (first < lines.length && starts[first + 1] === starts[first]) first++;
  if (first < lines.length) numbers[starts[first] as number] = first - lastColoured(starts, first);
  return { id, lines, starts, numbers, kinds };
}

/** The last line above this one that has a colour: what the protocol counts from. */
function lastColoured(starts: Uint32Array, line: number): number {
  let last = line - 1;
  while (last > 0 && starts[last + 1] === starts[last]) last--;
  return Math.max(0, last);
}

/** Asked once a name; a batch that only its graft lines make is one, too. */
type Kinds = Map<string, NameKind | undefined>;

const kindIn = ({ log }: Root, key: string): NameKind | undefined =>
  log.names.declared(key)?.kind ?? (log.names.isBatch(key) ? 'batch' : undefined);

export function sameKinds(kinds: Kinds, root: Root): boolean {
  for (const [key, kind] of kinds) if (kindIn(root, key) !== kind) return false;
  return true;
}

/** The colours of one line after another. */
export class Colours {
  numbers = new TokenNumbers(64);
  length = 0;
  readonly #root: Root;
  readonly #kinds: Kinds;
  readonly #pieces = new LinePieces();
  #last: number;

  /** @param last the line that the first piece is counted from */
  constructor(root: Root, kinds: Kinds, last: number) {
    this.#root = root;
    this.#kinds = kinds;
    this.#last = last;
  }

  push(line: number, said: Line): void {
    const pieces = this.#pieces;
    pieces.read(said);
    const numbers = this.#withRoom(5 * pieces.count);
    let at = this.length;
    let from = 0;
    for (let i = 0; i < pieces.count; i++) {
      const is = pieces.is[i] as Is;
      const kind = is === 'name' || is === 'declared name' ? this.#kindOf(pieces.key[i] ?? '') : is;
      if (!kind) continue;
      const start = pieces.start[i] as number;
      numbers[at] = line - this.#last;
      numbers[at + 1] = start - from;
      numbers[at + 2] = (pieces.end[i] as number) - start;
      numbers[at + 3] = numbered[kind];
      numbers[at + 4] = is === 'declared name' ? declaration : 0;
      at += 5;
      from = start;
      this.#last = line;
    }
    this.length = at;
  }

  #kindOf(key: string): NameKind | undefined {
    const kind = this.#kinds.get(key);
    if (kind !== undefined || this.#kinds.has(key)) return kind;
    const found = kindIn(this.#root, key);
    this.#kinds.set(key, found);
    return found;
  }

  #withRoom(more: number): TokenNumbers {
    if (this.length + more > this.numbers.length) {
      const wider = new TokenNumbers(2 * (this.numbers.length + more));
      wider.set(this.numbers);
      this.numbers = wider;
    }
    return this.numbers;
  }
}
