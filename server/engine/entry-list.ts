import type { Entry } from './model.ts';

type Compare = (a: Entry, b: Entry) => number;

/**
 * Entries kept in an order. Many at once are sorted when next asked for; one by one they are put in place, so that an
 * edit costs no more than its own line.
 */
export class EntryList {
  private items: Entry[] = [];
  private sorted = true;
  /** Where an entry was taken out and nothing moved up yet: a key takes a line out and puts it back, one letter richer. */
  private gap = -1;
  private readonly compare: Compare;
  private readonly derived = new Map<(all: readonly Entry[]) => unknown, unknown>();

  constructor(compare: Compare) {
    this.compare = compare;
  }

  get all(): readonly Entry[] {
    this.closeGap();
    if (!this.sorted) {
      this.items.sort(this.compare);
      this.sorted = true;
    }
    return this.items;
  }

  get size(): number {
    return this.items.length - (this.gap < 0 ? 0 : 1);
  }

  get first(): Entry | undefined {
    return this.all[0];
  }

  /** What is worked out from all entries, kept until one comes or goes; `make` is a function of the module, not one made for the call. */
  derive<T>(make: (all: readonly Entry[]) => T): T {
    if (!this.derived.has(make)) this.derived.set(make, make(this.all));
    return this.derived.get(make) as T;
  }

  /** `many`: more are to come before anybody reads; sorting waits till then. */
  add(entry: Entry, many: boolean): void {
    this.derived.clear();
    if (this.fitsGap(entry)) {
      this.items[this.gap] = entry;
      this.gap = -1;
      return;
    }
    this.closeGap();
    const last = this.items.at(-1);
    if (last === undefined || (this.sorted && this.compare(last, entry) <= 0)) this.items.push(entry);
    else if (many || !this.sorted) {
      this.items.push(entry);
      this.sorted = false;
    } else this.items.splice(this.from(entry), 0, entry);
  }

  remove(entry: Entry): void {
    this.derived.clear();
    const at = this.indexOf(entry);
    if (at >= 0) this.gap = at;
  }

  removeAll(gone: ReadonlySet<Entry>): void {
    this.derived.clear();
    this.closeGap();
    this.items = this.items.filter((entry) => !gone.has(entry));
  }

  /** Index of the first entry that does not come before this one. */
  from(entry: Entry): number {
    const items = this.all;
    let [low, high] = [0, items.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.compare(items[middle] as Entry, entry) < 0) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  private fitsGap(entry: Entry): boolean {
    const { items, gap } = this;
    if (gap < 0) return false;
    const [above, below] = [items[gap - 1], items[gap + 1]];
    return (!above || this.compare(above, entry) <= 0) && (!below || this.compare(entry, below) <= 0);
  }

  private closeGap(): void {
    if (this.gap >= 0) this.items.splice(this.gap, 1);
    this.gap = -1;
  }

  private indexOf(entry: Entry): number {
    const at = this.from(entry);
    return this.items[at] === entry ? at : -1;
  }
}
