import { describe, expect, test } from 'vitest';
import type { Standing } from '#server/import/names.ts';
import { askedBy, imported, workOf } from './imported.ts';

/* What a new log and those beside it, which are one log, call the same. */

const standing: readonly Standing[] = [
  { kind: 'batch', name: 'K24', file: '2023.graft', line: 4 },
  { kind: 'batch', name: 'k25', file: '2024.graft', line: 9 },
  { kind: 'place', name: 'Frame', file: 'nursery.graft', line: 2 },
  { kind: 'tree', name: 'T5', file: 'nursery.graft', line: 3 },
  { kind: 'lot', name: 'L7', file: '2023.graft', line: 8 },
];

describe('a batch that stands in another log', () => {
  test('may be the same grafts or others: the owner is asked', () => {
    expect(askedBy('Graft,Date\nK24.1,2024-10-09\n', { standing })).toBe(
      'Batch K24 stands in 2023.graft (line 4) already. If the sheet has the same grafts, they are on record; if it has others, add --rename: it becomes K24-2.',
    );
    expect(askedBy('Graft,Date\nK24.1,2024-10-09\nK25.1,2024-10-09\n', { standing })).toBe(
      'Batches K24, k25 stand in other logs here already, K24 in 2023.graft (line 4). If the sheet has the same grafts, they are on record; if it has others, add --rename: K24 becomes K24-2, and so on.',
    );
  });
  test('so is one that the sheet doesn’t name, by the name it would have', () => {
    const pines = 'Date,Species\n2024-10-09,Pinus mugo\n';
    const named = [{ kind: 'batch', name: 'P24', file: 'a.graft', line: 1 }] as const;
    expect(askedBy(pines, { standing: named })).toContain('Batch P24 stands in a.graft (line 1) already.');
    expect(workOf(imported(pines, { standing: named, rename: true }))).toEqual(['2024-10-09', 'graft    P24b.1']);
  });
  test('others get new names, and the log and the preview say which', () => {
    const done = imported('Graft,Date\nK24.1,2024-10-09\nK26.1,2024-10-09\n', { standing, rename: true });
    expect(workOf(done)).toEqual(['2024-10-09', 'graft    K24-2.1', 'graft    K26.1']);
    expect(done.log).toContain('# batch K24-2: “K24” in the sheet\n');
    expect(done.notes).toContain('Names begin with a letter, hold together and stand for one thing: “K24” is K24-2.');
  });
  test('rows that are left ask nothing', () => {
    const done = imported('Graft,Date\nK24.1,spring\nK26.1,2024-10-09\n', { standing });
    expect(done.left).toHaveLength(1);
  });
});

test('a place or tree of that name is the same one: it isn’t declared again', () => {
  const done = imported('Graft,Date,Place,Scion tree\nK26.1,2024-10-09,frame,T5\nK26.2,2024-10-09,tunnel,T6\n', {
    standing,
  });
  expect(done.log.split('\n').filter((line) => /^(place|tree)/.test(line))).toEqual(['place    tunnel', 'tree     T6']);
  expect(workOf(done)).toContain('graft    K26.1  from T5  in Frame');
  expect(done.notes).toContain(
    'Declared in other logs here, and not again: T5 in nursery.graft, Frame in nursery.graft.',
  );
});

test('what is something else there gets another name here', () => {
  const done = imported('Graft,Date,Place,Batch\n1,2024-10-09,L7,T5\n', { standing });
  expect(done.log).toContain('place    L7-2\n');
  expect(workOf(done)).toContain('graft    T5-2.1');
});
