import type { Day } from '#grammar/statement.ts';
import { EntryList } from './entry-list.ts';
import { declaredKind, type Mention, mentionsIn } from './mentions.ts';
import type { Declared, Entry, NameKind } from './model.ts';
import { byHistory, byPlace } from './order.ts';

/** What changed under a name: everything, or only work done to it on some days. */
export interface Touch {
  readonly whole: boolean;
  readonly from: Day;
  readonly to: Day;
}

const none: readonly Entry[] = [];

/** Which lines name what, kept by difference. One namespace for places, trees, batches and lots; keys are lower case, NFC. */
export class NameIndex {
  private readonly named = new Map<string, EntryList>();
  private readonly worked = new Map<string, EntryList>();
  private readonly declaring = new Map<string, EntryList>();
  /** How many `graft` lines make grafts under a name. */
  private readonly grafted = new Map<string, number>();

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
      },
      -1,
    );
  }

  /** Many at once: each list is gone through once. */
  removeAll(gone: ReadonlySet<Entry>): void {
    const touched = new Map<Map<string, EntryList>, Set<string>>(
      [this.named, this.worked, this.declaring].map((map) => [map, new Set()]),
    );
    for (const entry of gone) this.each(entry, (map, key) => touched.get(map)?.add(key), -1);
    for (const [map, keys] of touched) {
      for (const key of keys) {
        const list = map.get(key);
        list?.removeAll(gone);
        if (list?.size === 0) map.delete(key);
      }
    }
  }

  private each(entry: Entry, put: (map: Map<string, EntryList>, key: string) => void, by: 1 | -1): readonly Mention[] {
    const statement = entry.line.statement;
    if (!statement) return [];
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
