import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readLine } from '#grammar/line.ts';
import { EntryList } from '#server/engine/entry-list.ts';
import type { Entry } from '#server/engine/model.ts';
import { byPlace } from '#server/engine/order.ts';

const line = readLine('open K26 20%');
const entryAt = (rank: number): Entry => ({ line, file: 'a.graft', rank, minute: 0 });

const step = fc.oneof(
  fc.record({ kind: fc.constant('add' as const), rank: fc.nat(20), many: fc.boolean() }),
  fc.record({ kind: fc.constant('remove' as const), at: fc.nat(20) }),
  /** A key: the line goes, and comes back in its place or another. */
  fc.record({ kind: fc.constant('key' as const), at: fc.nat(20), rank: fc.option(fc.nat(20), { nil: undefined }) }),
  fc.record({ kind: fc.constant('sift' as const), every: fc.integer({ min: 2, max: 4 }) }),
  fc.record({ kind: fc.constant('look' as const) }),
);

test('whatever comes and goes, a list holds what a sorted array would', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 40 }), (steps) => {
      const list = new EntryList(byPlace);
      let kept: Entry[] = [];
      const add = (entry: Entry, many = false) => {
        list.add(entry, many);
        kept.push(entry);
      };
      const remove = (entry: Entry | undefined) => {
        if (!entry) return;
        list.remove(entry);
        kept = kept.filter((other) => other !== entry);
      };
      // ranks of two entries are never the same in a file
      const free = (rank: number) => !kept.some((entry) => entry.rank === rank);
      for (const one of steps) {
        const chosen = 'at' in one && kept.length > 0 ? kept[one.at % kept.length] : undefined;
        if (one.kind === 'add' && free(one.rank)) add(entryAt(one.rank), one.many);
        if (one.kind === 'remove') remove(chosen);
        if (one.kind === 'key' && chosen) {
          remove(chosen);
          const rank = one.rank ?? chosen.rank;
          if (free(rank)) add(entryAt(rank));
        }
        if (one.kind === 'sift') {
          const gone = new Set(kept.filter((_, i) => i % one.every === 0));
          list.removeAll(gone);
          kept = kept.filter((entry) => !gone.has(entry));
        }
        expect(list.size).toBe(kept.length);
        if (one.kind === 'look') expect(list.all).toEqual(kept.toSorted(byPlace));
      }
      expect(list.all).toEqual(kept.toSorted(byPlace));
      expect(list.first).toBe(kept.toSorted(byPlace)[0]);
    }),
    { numRuns: 1000 },
  );
});
