import { describe, expect, test } from 'vitest';
import type { CompletionItem } from 'vscode-languageserver-protocol';
import { completion } from '#server/lsp/completion.ts';
import { resolved } from '#server/lsp/completion-item.ts';
import { writingCapabilities } from '#server/lsp/writing.ts';
import { answered, labels, noted, nursery, offered } from '../support/offers.ts';
import { caretIn } from '../support/view.ts';

describe('grafts a verb fits today', () => {
  test('open: the step that is due first, then what could be opened; what is lost, and what was never made, is not offered', () => {
    expect(noted('2027-04-06  open  |')).toEqual([
      'K26.1..8 · by 7 Apr',
      'K26.9..12 · not swelling yet',
      'frame',
      'tent',
    ]);
  });

  test('swell: those that sleep; take: those that live; graft: the next number', () => {
    expect(noted('2027-04-06  swell  |')[0]).toMatch(/^K26\.9\.\.12/);
    expect(labels('2027-04-06  take  |')).toEqual(['K26']);
    expect(labels('2027-04-06  rewrap  |')).toEqual(['K26.1..8']);
    expect(noted('2027-04-06  graft  |')).toEqual(['B26.9 · the next', 'K26.13 · the next', 'G27.1 · the first']);
  });

  test('a batch that was declared just above is grafted first', () => {
    const next = 'batch  H27  Pinus mugo / Pinus sylvestris  cleft\n\n2027-04-06\n';
    expect(labels('graft  |', ' ', next)).toEqual(['H27.1', 'B26.9', 'K26.13', 'G27.1']);
    expect(labels('graft  |', ' ', `${next}graft  K26.13  cut 40%\n`)[0]).toBe('K26.14');
  });

  test('behind a name and its dot: its histories by themselves', () => {
    expect(labels('2027-04-06  check  K26.|', '.')).toEqual(['K26.1..8', 'K26.9..11', 'K26.12']);
    expect(labels('2027-04-06  open  K26 except |')).toEqual(['K26.9..12', 'K26.1..8', 'K26.9..11', 'K26.12']);
  });

  test('how far: both ends of the next step; of heading back the thirds still to come', () => {
    expect(noted('2027-04-06  open  K26.1..8  |')).toEqual(
      expect.arrayContaining(['15% · by 7 Apr', '20% · by 7 Apr']),
    );
    const headed = '2027-04-01  headback  K26  1/3\n';
    expect(labels('2027-04-06  headback  K26  |', ' ', headed).slice(0, 2)).toEqual(['2/3', '100%']);
  });

  test('a line just typed counts, though nothing else asked since', () => {
    const { text, position } = caretIn(`${nursery}\n2027-04-06  rewrap  |`);
    const { root, view } = answered(text);
    const line = position.line - 1;
    root.edit(
      'log.graft',
      { start: { line, character: 0 }, end: { line, character: 0 } },
      '2027-04-05  rewrap  K26.1..4',
    );
    const { items } = completion(view(), position, { snippets: true, trigger: ' ' });
    expect(items.map(({ label }) => label)).toEqual(['K26.5..8']);
  });
});

describe('facts', () => {
  test('those not given yet, as the line before had them, with the value they had', () => {
    const { items } = offered('2027-04-06  graft  K26.13  cut 40%  |');
    // a snippet: `scion ${1:4mm x 90mm}`
    const written = items.slice(0, 3).map(({ textEdit }) => textEdit?.newText.replace(/\$\{1:(.*)\}/, '[$1]'));
    expect(written).toEqual(['scion [4mm x 90mm]', 'whorls [2]', 'by [mk,jo]']);
    expect(items.map(({ label }) => label)).not.toContain('cut');
  });

  test('values used last stand behind their key, of the batch before those of others', () => {
    expect(labels('2027-04-06  graft  K26.13  cut |', ' ')).toEqual(['35..40%', '40%', '30%']);
    expect(labels('2027-04-06  graft  K26.13  by |', ' ')).toEqual(['mk,jo', 'mk', 'jo']);
    expect(labels('2027-04-06  check  K26  by |', ' ')).toEqual(['mk,jo', 'mk', 'jo']);
    expect(noted('2027-04-06  graft  K26.13  out |')).toEqual(['4cm · for example']);
  });

  test('places, trees and lots by their kind; plants as written before', () => {
    expect(labels('2027-04-06  move  K26  to |', ' ')).toEqual(['frame', 'tent']);
    expect(labels('2027-04-06  graft  G27.1  onto T1|')).toEqual(['T14']);
    expect(labels('batch  H27  |')).toContain("Pinus parviflora 'Tenysu' / P. thunbergii");
    expect(labels('2027-04-06  graft  G27.1  lot |', ' ')).toEqual(['L7']);
  });

  test('for whom a rule is comes first; `rest` and `except` are said of grafts', () => {
    const rule = 'practice  needle  scion 50mm..  source "own"\n';
    expect(labels('practice  |', undefined, rule).slice(0, 3)).toEqual(['any', 'detached', 'side-veneer']);
    expect(labels('practice  any  |', undefined, rule).slice(0, 2)).toEqual(['scion', 'source']);
    expect(labels('2027-04-06  check  K26  |')).toEqual(expect.arrayContaining(['rest', 'except']));
    expect(labels('2027-04-06  check  frame  |')).not.toContain('rest');
  });

  test('in the middle of a line: nothing that stands behind the caret', () => {
    const facts = labels('2027-04-06  graft  K26.13  |  whorls 2  by mk');
    expect(facts).toContain('cut');
    for (const given of ['whorls', 'by']) expect(facts).not.toContain(given);
    expect(labels('2027-04-06  open  K26.1..8 |  15%  by mk')).not.toContain('20%');
    expect(labels('2027-04-06  fail  K26.9 |  dried')).not.toContain('rotted');
    expect(labels('2027-04-06  check  K26 |  green')).not.toContain('green');
    for (const line of ['graft  |  K26.13', 'graft  K26.13  cut | 40%', 'check  K26 |"so"'])
      expect(labels(`2027-04-06  ${line}`), line).toEqual([]);
    expect(labels('batch  H27  Pinus |  mugo  cleft')).toEqual([]);
  });

  test('a flag has no value, `rest` stands right behind its set', () => {
    const waxed = '2027-04-01  graft  G27.1  wax\n';
    const { items } = offered('2027-04-06  graft  G27.2  |', undefined, waxed);
    expect(items.find(({ label }) => label === 'wax')?.textEdit?.newText).toBe('wax');
    expect(labels('2027-04-06  fail  K26  dried  |')).not.toContain('rest');
    expect(labels('2027-04-06  check  K26 B26  |')).not.toContain('rest');
  });

  test('a colon behind a key is no word', () => {
    expect(labels('2027-04-06  graft  K26.13  cut: |')).toEqual(labels('2027-04-06  graft  K26.13  cut |'));
    expect(labels('2027-04-06  graft  K26.13  cut=|')).toContain('40%');
  });

  test('nothing is like itself', () => {
    expect(labels('batch  H27  like |', ' ')).toEqual(['B26', 'G27', 'K26']);
    expect(labels('tree  T20  Pinus mugo  from |', ' ')).not.toContain('T20');
  });

  test('codes found on the very line come first', () => {
    const shallow = '2027-04-06  graft  K26.13  cut 12%  whorls 2  accept |';
    expect(labels(shallow, ' ')[0]).toBe('cut-shallow');
  });
});

describe('a slip of the hand', () => {
  test('verbs, facts and names near it', () => {
    expect(labels('2027-04-06  oepn|')).toEqual(['open']);
    expect(labels('2027-04-06  graft  K26.13  whrols|')).toEqual(['whorls']);
    expect(labels('2027-04-06  move  K26  to fraem|')).toEqual(['frame']);
    expect(labels('2027-04-06  open  K62|')).toEqual(['K26']);
    expect(offered('2027-04-06  open  K62|').items[0]?.filterText).toBe('K62');
  });

  test('which graft is meant is not guessed where Enter would end the line', () => {
    for (const line of ['take  K62|', 'check  K62|', 'graft  G27.1  lot L77|'])
      expect(labels(`2027-04-06  ${line}`), line).toEqual([]);
  });

  test('a plant’s own word is no slip of a fact', () => {
    expect(labels('tree  T20  Pinus inn|')).toEqual([]);
    expect(labels('tree  T20  Pinus mugo  inn|')).toEqual(['in']);
  });
});

describe('nothing steals a line', () => {
  test('at the end of a finished line nothing is offered', () => {
    for (const line of [
      '2027-04-06  take  K26|',
      '2027-04-06  take  K26  |',
      '2027-04-06  graft  K26.13  cut 40%|',
      '2027-04-06  graft  K26.13  by mk|',
      '2027-04-06  fail  K26.1  dried|',
      '2027-04-06  check  K26  green  |',
      '2027-04-06  move  K26  to frame|',
    ])
      expect(labels(line, line.endsWith(' |') ? ' ' : undefined), line).toEqual([]);
  });

  test('no letter, blank or mark takes an offer', () => {
    for (const line of ['2027-04-06  open  |', '2027-04-06  graft  K26.13  |', '|'])
      for (const item of offered(line).items) expect(item.commitCharacters, `${line} ${item.label}`).toEqual([]);
  });

  test('hands and labels, which may be new, are offered at an empty place only', () => {
    expect(labels('2027-04-06  check  K26  by j|')).toEqual([]);
  });

  test('nothing in remarks, texts and names of plants, nor where a new name is given, nor inside a word', () => {
    for (const line of [
      '2027-04-06  take  K26  # so|',
      '2027-04-06  take  K26  "so|',
      "batch  H27  Pinus mugo 'Win|",
      'batch  H27  P. |',
      '2027-04-06  check  K26  "so"|',
      '2027-04-06  check  K26.1,|',
      'batch  H|',
      '2027-04-06  ta|ke  K26',
    ])
      expect(labels(line), line).toEqual([]);
  });

  test('below a graft line the next one is offered first; Enter alone asks for nothing', () => {
    const above = '2027-04-06\ngraft    K26.13  cut 40%  by mk  photo "a.jpg"\n';
    for (const line of ['|', 'g|'])
      expect(offered(line, undefined, above).items[0]?.textEdit?.newText).toBe('graft K26.14  cut 40%  by mk');
    expect(labels('graft|', undefined, above)).toEqual([]);
    expect(writingCapabilities.completionProvider?.triggerCharacters).not.toContain('\n');
  });
});

test('an empty line under another day offers today', () => {
  expect(offered('|').items[0]).toMatchObject({ label: '2027-04-06', labelDetails: { description: 'today' } });
  expect(labels('2027-04|')).toEqual(['2027-04-06']);
  expect(labels('|', undefined, '2027-04-06\n')).not.toContain('2027-04-06');
});

test('another day written out is no misspelt today: Enter would change it', () => {
  for (const day of ['2027-04-05|', '2027-03-06|', '2026-04-06|', '2027-4-0|', '2027-04-60|', '07:30|'])
    expect(labels(day), day).toEqual([]);
});

test('help comes with the item that is looked at', () => {
  const { text, position } = caretIn(`${nursery}2027-04-06  open  |`);
  const view = answered(text).view();
  const [first] = completion(view, position, { snippets: true, trigger: undefined }).items;
  expect(first).not.toHaveProperty('documentation');
  expect(resolved(first as CompletionItem, view, true).documentation).toMatchObject({
    kind: 'markdown',
    value: expect.stringContaining('**Next** open a step to 15–20'),
  });
});

test('in a log of a hundred times as many batches an offer takes about as long', () => {
  /** The shortest of some tries, in milliseconds, each after a letter typed. */
  const shortest = (batches: number): number => {
    const lines = Array.from(
      { length: batches },
      (_, i) =>
        `batch K${i}x  Pinus mugo  side-veneer  film\n2026-10-09  graft  K${i}x.1..9\n2027-03-20  swell  K${i}x\n`,
    );
    const { root, view } = answered(`${lines.join('')}2027-04-06  `);
    const line = batches * 3;
    const tries = ['open  ', 'take  ', 'graft  ', 'graft  K7x.10  cut ', 'move  K7x  to ', 'open  K7y'].flatMap(
      (typed) =>
        Array.from({ length: 20 }, () => {
          for (const text of ['x', typed]) {
            const end = { line, character: root.log.document('log.graft')?.entries[line]?.line.text.length ?? 0 };
            root.edit('log.graft', { start: { line, character: 12 }, end }, text);
          }
          const started = performance.now();
          completion(view(), { line, character: 12 + typed.length }, { snippets: true, trigger: undefined });
          return performance.now() - started;
        }).sort((a, b) => a - b)[0],
    );
    return Math.max(...tries.map((time) => time ?? 0));
  };
  const [short, long] = [shortest(30), shortest(3000)];
  expect(long).toBeLessThan(short * 10 + 15);
});
