import type { Day } from '#grammar/statement.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import { EntryList } from './entry-list.ts';
import { declaredKind, type Mention, mentionsIn } from './mentions.ts';
import type { Declared, Entry, NameKind } from './model.ts';
import { nearName } from './near-name.ts';
import { byHistory, byPlace } from './order.ts';
import { SortedKeys } from './sorted-keys.ts';

/** What changed under a name: everything, or only work done to it on some days. */
export interface Touch {
  readonly whole: boolean;
  readonly from: Day;
  readonly to: Day;
}

const none: readonly Entry[] = [];
const kinds: readonly NameKind[] = ['batch', 'place', 'tree', 'lot'];

/** Which lines name what, kept by difference. One namespace for places, trees, batches and lots; keys are lower case, NFC. */
export class NameIndex {
  private readonly named = new Map<string, EntryList>();
  private readonly worked = new Map<string, EntryList>();
  private readonly declaring = new Map<string, EntryList>();
  /** Lines by their verb, in order of the history. */
  private readonly verbed = new Map<string, EntryList>();
  /** Keys of each kind; one that two lines give to different kinds stands in both. */
  private readonly sorted: Readonly<Record<NameKind, SortedKeys>>;
  /** How many `graft` lines make grafts under a name. */
  private readonly grafted = new Map<string, number>();

  constructor() {
    const keysOf = (kind: NameKind) =>
      new SortedKeys(() => [...this.declaring.keys()].filter((key) => this.isDeclaredAs(key, kind)));
    this.sorted = { batch: keysOf('batch'), place: keysOf('place'), tree: keysOf('tree'), lot: keysOf('lot') };
  }

  private isDeclaredAs(key: string, kind: NameKind): boolean {
    return this.declarations(key).some(({ line }) => line.statement && declaredKind(line.statement.verb) === kind);
  }

  /** Every line that names it, in order of the history. */
  mentions(key: string): readonly Entry[] {
    return this.named.get(key)?.all ?? none;
  }

  /** Lines whose work was done to it, in order of the history. */
  workOn(key: string): EntryList | undefined {
    return this.worked.get(key);
  }

  /** Every line that declares it, by file and line; the first one holds. */
  declarations(key: string): readonly Entry[] {
    return this.declaring.get(key)?.all ?? none;
  }

  declared(key: string): Declared | undefined {
    const entry = this.declaring.get(key)?.first;
    const statement = entry?.line.statement;
    const kind = statement && declaredKind(statement.verb);
    const name = statement?.sets[0]?.name;
    return entry && kind && name ? { kind, key, name: name.text, entry } : undefined;
  }

  /** Everything declared, or of one kind; by no particular order. */
  *allDeclared(kind?: NameKind): Generator<Declared> {
    for (const key of this.declaring.keys()) {
      const declared = this.declared(key);
      if (declared && (!kind || declared.kind === kind)) yield declared;
    }
  }

  /** Lines with a verb, in order of the history: what was written last stands at the end. */
  withVerb(verb: Verb): readonly Entry[] {
    return this.verbed.get(verb)?.all ?? none;
  }

  /** Names that begin so, of these kinds, each kind in order of the alphabet; keys as they are compared. */
  *startingWith(prefix: string, kinds: readonly NameKind[]): Generator<Declared> {
    for (const kind of kinds)
      for (const key of this.sorted[kind].startingWith(prefix)) {
        const declared = this.declared(key);
        if (declared?.kind === kind) yield declared;
      }
  }

  /** The name of one of these kinds that a misspelt one stands for. */
  near(word: string, kinds: readonly NameKind[]): Declared | undefined {
    const isName = (key: string) => {
      const kind = this.declared(key)?.kind;
      return kind !== undefined && kinds.includes(kind);
    };
    const names = function* (this: NameIndex) {
      for (const kind of kinds) yield* this.sorted[kind].startingWith('');
    };
    const near = nearName(word, isName, names.bind(this));
    return near === undefined ? undefined : this.declared(near);
  }

  /** Batches: declared, or grafted under a name that nothing declares. */
  *batches(): Generator<string> {
    for (const declared of this.allDeclared('batch')) yield declared.key;
    for (const key of this.grafted.keys()) if (!this.declaring.has(key)) yield key;
  }

  isBatch(key: string): boolean {
    const declared = this.declared(key);
    return declared ? declared.kind === 'batch' : this.grafted.has(key);
  }

  add(entry: Entry, many: boolean): readonly Mention[] {
    return this.each(
      entry,
      (map, key) => {
        let list = map.get(key);
        if (!list) {
          list = new EntryList(map === this.declaring ? byPlace : byHistory);
          map.set(key, list);
        }
        list.add(entry, many);
        if (map === this.declaring && !many) this.resort(key);
        else if (map === this.declaring) for (const kind of kinds) this.sorted[kind].forget();
      },
      1,
    );
  }

  remove(entry: Entry): void {
    this.each(
      entry,
      (map, key) => {
        const list = map.get(key);
        list?.remove(entry);
        if (list?.size === 0) map.delete(key);
        if (map === this.declaring) this.resort(key);
      },
      -1,
    );
  }

  /** Many at once: each list is gone through once. */
  removeAll(gone: ReadonlySet<Entry>): void {
    const touched = new Map<Map<string, EntryList>, Set<string>>(
      [this.named, this.worked, this.declaring, this.verbed].map((map) => [map, new Set()]),
    );
    for (const entry of gone) this.each(entry, (map, key) => touched.get(map)?.add(key), -1);
    for (const [map, keys] of touched) {
      for (const key of keys) {
        const list = map.get(key);
        list?.removeAll(gone);
        if (list?.size === 0) map.delete(key);
        if (map === this.declaring) this.resort(key);
      }
    }
  }

  private resort(key: string): void {
    for (const kind of kinds)
      if (this.isDeclaredAs(key, kind)) this.sorted[kind].add(key);
      else this.sorted[kind].delete(key);
  }

  private each(entry: Entry, put: (map: Map<string, EntryList>, key: string) => void, by: 1 | -1): readonly Mention[] {
    const statement = entry.line.statement;
    if (!statement) return [];
    put(this.verbed, statement.verb);
    const mentions = mentionsIn(statement);
    const [seen, worked] = [new Set<string>(), new Set<string>()];
    for (const {
      name: { key },
      as,
    } of mentions) {
      if (!seen.has(key)) put(this.named, key);
      seen.add(key);
      if (as === 'declared') put(this.declaring, key);
      if (as !== 'target' || worked.has(key)) continue;
      worked.add(key);
      put(this.worked, key);
      if (statement.verb !== 'graft' || statement.idle) continue;
      const count = (this.grafted.get(key) ?? 0) + by;
      if (count > 0) this.grafted.set(key, count);
      else this.grafted.delete(key);
    }
    return mentions;
  }
}
