import type { Day } from '#grammar/statement.ts';
import { historyOf, type TrackedHistory } from './history.ts';
import type { Log, LogChange } from './log.ts';
import type { Touch } from './name-index.ts';

/** Histories read so far, and which names each was read from. An edit throws away those it reaches and no others. */
export class Histories {
  readonly log: Log;
  readonly day: Day;
  private readonly known = new Map<string, TrackedHistory>();
  private readonly readFrom = new Map<string, Set<string>>();

  constructor(log: Log, day: Day) {
    this.log = log;
    this.day = day;
  }

  of(key: string): TrackedHistory {
    const known = this.known.get(key);
    if (known) return known;
    const history = historyOf(key, this.log, this.day);
    this.known.set(key, history);
    for (const name of history.depends) {
      const readers = this.readFrom.get(name);
      if (readers) readers.add(key);
      else this.readFrom.set(name, new Set([key]));
    }
    return history;
  }

  /**
   * Forgets the histories a change reaches and gives their batches, those that came or went among them. Work on a place
   * reaches what stood there on its days; a line with a name of its own reaches whatever names it.
   */
  apply(change: LogChange): ReadonlySet<string> {
    const dirty = new Set<string>();
    for (const [name, touch] of change.touched) {
      if (touch.whole || this.log.names.isBatch(name)) dirty.add(name);
      for (const batch of this.readFrom.get(name) ?? [])
        if (!dirty.has(batch) && this.reaches(name, touch, batch)) dirty.add(batch);
    }
    for (const batch of dirty) this.forget(batch);
    return dirty;
  }

  private reaches(name: string, touch: Touch, batch: string): boolean {
    const history = this.known.get(batch);
    if (touch.whole || !history || name === batch || history.stores.has(name)) return true;
    let stood = false;
    for (const { stays, fail, sold } of history.cohorts) {
      for (let i = 0; i < stays.length; i++) {
        const { place, tree, day } = stays[i] as (typeof stays)[number];
        if (tree === name) return true;
        if (place !== name) continue;
        stood = true;
        const end = stays[i + 1]?.day ?? fail?.day ?? sold ?? Number.POSITIVE_INFINITY;
        if (touch.from <= end && touch.to >= day) return true;
      }
    }
    // read from in another way than by standing there: as a lot, or as a tree that nothing stands on any more
    return !stood;
  }

  private forget(batch: string): void {
    const history = this.known.get(batch);
    if (!history) return;
    this.known.delete(batch);
    for (const name of history.depends) {
      const readers = this.readFrom.get(name);
      readers?.delete(batch);
      if (readers?.size === 0) this.readFrom.delete(name);
    }
  }
}
