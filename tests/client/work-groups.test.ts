import { describe, expect, test } from 'vitest';
import type { WorkList, WorkRow } from '#server/lsp/protocol.ts';
import { filtered, type groupings, groupRows, rowsOf } from '../../client/work-groups.ts';

const row = (wishes: Partial<WorkRow>): WorkRow => ({
  ...{ what: 'open', job: 'open a step', title: 'open a step to 15–20 %', batch: 'K26', grafts: 'K26.1..4', count: 4 },
  ...{
    place: 'frame',
    hand: 'mk',
    state: 'due',
    waits: false,
    when: 'by 7 Apr',
    why: '',
    spoken: '',
    from: '',
    by: '',
    write: [],
  },
  at: { uri: 'file:///n/a.graft', line: 0 },
  ...wishes,
});
const list = (name: string, ...rows: WorkRow[]): WorkList => ({
  ...{ root: `file:///${name}`, name, on: '2027-04-06', onShown: 'Tue 6 Apr', files: 1, unread: [], lines: 9, read: 9 },
  rows,
  next: null,
});
const shown = (lists: readonly WorkList[], by: (typeof groupings)[number]) =>
  groupRows(rowsOf(lists), by).map(({ label, rows }) => `${label}: ${rows.map(({ batch }) => batch).join(' ')}`);

describe('groups', () => {
  const lists = [
    list(
      'n',
      row({ batch: 'K26', state: 'overdue' }),
      row({ batch: 'K9', state: 'overdue', waits: true, hand: null }),
      row({ batch: 'K10', state: 'later', place: null }),
    ),
  ];
  test('by when: late work that can wait is due, and only what holds something is shown', () => {
    expect(shown(lists, 'when')).toEqual(['Overdue: K26', 'Due: K9', 'Later: K10']);
  });
  test('by place, batch and hand: numbers in their order, what isn’t noted last', () => {
    expect(shown(lists, 'place')).toEqual(['frame: K26 K9', 'No place noted: K10']);
    expect(shown(lists, 'batch')).toEqual(['K9: K9', 'K10: K10', 'K26: K26']);
    expect(shown(lists, 'hand')).toEqual(['mk: K26 K10', 'Nobody noted: K9']);
  });
  test('two logs that both have a K26 and a frame keep them apart; a folder without a log doesn’t count', () => {
    const two = [list('north', row({})), list('south', row({}))];
    expect(shown(two, 'batch')).toEqual(['K26 · north: K26', 'K26 · south: K26']);
    expect(shown(two, 'when')).toEqual(['Due: K26 K26']);
    expect(shown([list('north', row({})), { ...list('south'), files: 0 }], 'batch')).toEqual(['K26: K26']);
  });
});

describe('filter', () => {
  const rows = rowsOf([
    list('n', row({ place: 'frame', hand: 'mk' }), row({ batch: 'C28', grafts: 'C28.1', place: 'Tunnel', hand: null })),
  ]);
  const found = (words: string) => filtered(rows, words).map(({ batch }) => batch);
  test('every word has to fit, in any order and case; nothing asked shows all', () => {
    expect(found('')).toEqual(['K26', 'C28']);
    expect(found('  OPEN   tunnel ')).toEqual(['C28']);
    expect(found('mk frame')).toEqual(['K26']);
    expect(found('mk tunnel')).toEqual([]);
    expect(found('null')).toEqual([]);
  });
});
