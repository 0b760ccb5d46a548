import { describe, expect, test } from 'vitest';
import { DocumentHighlightKind, type Location, type LocationLink, type SelectionRange } from 'vscode-languageserver';
import { definition } from '#server/lsp/definition.ts';
import { documentHighlight } from '#server/lsp/document-highlight.ts';
import { references } from '#server/lsp/references.ts';
import { selectionRange } from '#server/lsp/selection-range.ts';
import { answerOf, caretIn, type Folder, folderOf } from '../support/view.ts';

const nursery = `
place frame  frost-free shade wind-break
place fridge  at 2C
tree T3  Pinus parviflora  in frame
batch K26  Pinus parviflora / P. thunbergii  side-veneer  lot L7  in frame
batch B26  like K26
accept side-top  K26.3  "only there"
`;

describe('definition', () => {
  /** Where the caret in the second file leads to, and what is underlined there. */
  function from(line: string, links = true): string[] {
    const { text, position } = caretIn(line);
    const folder = folderOf({
      'nursery.graft': nursery.trim(),
      'log.graft': text,
      'made.graft': '2026-09-28 collect L7 from T3\n2026-10-09 graft K26.1..11\n2026-10-10 graft K26.12..20\n',
    });
    const found = definition(folder.view('log.graft'), position, { links, pages: true });
    return found.map((one: Location | LocationLink) =>
      'uri' in one
        ? one.uri.startsWith('file:')
          ? folder.text(one.uri, one.range)
          : `${one.uri} ${one.range.start.line > 0}`
        : `${folder.text(folder.view('log.graft').uri, one.originSelectionRange as never)} > ${one.targetUri.startsWith('file:') ? folder.text(one.targetUri, one.targetSelectionRange) : one.targetUri}`,
    );
  }

  test('a batch’s name leads to its line, a number to the line that made that graft', () => {
    expect(from('2027-03-20 swell K|26.12')).toEqual(['1: K26 > nursery.graft 4: K26']);
    expect(from('2027-03-20 swell K26.1|2')).toEqual(['1: 12 > made.graft 3: K26.12..20']);
    expect(from('2027-03-20 swell K26.1..5,14|')).toEqual(['1: 14 > made.graft 3: K26.12..20']);
  });
  test('a range made in two sittings leads to both', () => {
    expect(from('2027-03-20 swell K26.8.|.15')).toEqual([
      '1: 8..15 > made.graft 2: K26.1..11',
      '1: 8..15 > made.graft 3: K26.12..20',
    ]);
  });
  test('place, tree, lot and batch of a fact', () => {
    expect(from('2027-03-20 move K26 to fr|idge')).toEqual(['1: fridge > nursery.graft 2: fridge']);
    expect(from('2026-10-12 graft B26.1 lot L|7 onto T3')).toEqual(['1: L7 > made.graft 1: L7']);
    expect(from('2026-10-12 graft B26.1 lot L7 onto T|3')).toEqual(['1: T3 > nursery.graft 3: T3']);
    expect(from('batch C26 like K|26', false)).toEqual(['nursery.graft 4: K26']);
  });
  test('what a set leaves out, and whom a rule is for', () => {
    expect(from('2027-03-20 swell K26 except K26.1|4')).toEqual(['1: 14 > made.graft 3: K26.12..20']);
    expect(from('accept cut-deep K26.|2')).toEqual(['1: 2 > made.graft 2: K26.1..11']);
  });
  test('a batch that nothing declares is what its first graft line makes', () => {
    expect(from('2026-10-12 graft X1.1\n2027-03-20 swell X|1')).toEqual(['2: X1 > 1: X1']);
  });
  test('a figure leads to the practice it is held against, a code to its page', () => {
    expect(from('2026-10-12 graft B26.1 cut 2|2%')).toEqual([
      '1: cut 22% > graftlog-page:/practice.graft',
      '1: cut 22% > graftlog-page:/practice.graft',
    ]);
    expect(from('2026-10-12 graft B26.1 cut 2|2%\npractice B26 cut 20..50%')).toEqual([
      '1: cut 22% > 2: practice B26 cut 20..50%',
    ]);
    expect(from('2027-04-06 open K26.1 2|0%')).toEqual(['1: 20% > graftlog-page:/practice.graft']);
    expect(from('accept cut-d|eep K26')).toEqual(['1: cut-deep > graftlog-page:/cut-deep.md']);
    expect(from('2026-10-12 graft B26.1 cut 22% accept cut-sh|allow')).toEqual([
      '1: cut-shallow > graftlog-page:/cut-shallow.md',
    ]);
  });
  test('a hand is nobody’s line, even where a place has its name', () => {
    expect(from('2027-03-20 swell K26 by fri|dge')).toEqual([]);
  });
});

const season = `
place frame
place yard
batch K26  Pinus mugo / Pinus mugo  in frame
2026-10-09
graft K26.1..11  by mk
graft K26.12  by mk,jo
2027-03-20 swell K26 except K26.4
2027-04-01 open frame 10%
2027-04-06 open K26.1..8 20%
2027-04-12 fail K26.5 dried
2027-05-20 free K26
2027-06-01 move K26 to yard
2027-06-02 check yard
2027-06-30 take K26 rest
accept open-soon K26.5
`;

describe('references', () => {
  function found(line: string, declaration = true): string[] {
    const lines = season.trim().split('\n');
    const at = lines.indexOf(line.replace('|', ''));
    const { text, position } = caretIn(lines.map((one, i) => (i === at ? line : one)).join('\n'));
    const folder = folderOf(text);
    return answerOf(references(folder.view(), position, declaration)).map(({ uri, range }) => folder.text(uri, range));
  }

  test('of one graft out of a range: all it went through and nothing after its end, its place’s lines among them', () => {
    expect(found('2027-04-12 fail K26.|5 dried')).toEqual([
      '3: K26',
      '5: K26.1..11',
      '7: K26 except K26.4',
      '8: frame',
      '9: K26.1..8',
      '10: K26.5',
      '15: K26.5',
    ]);
  });
  test('of one that lived on: the whole batch’s lines are its own, those that leave it out are not', () => {
    expect(found('2027-03-20 swell K26 except K26.|4', false)).toEqual([
      '5: K26.1..11',
      '8: frame',
      '9: K26.1..8',
      '11: K26',
      '12: K26',
      '13: yard',
      '14: K26 rest',
    ]);
  });
  test('of a batch’s name: every line that names it', () => {
    expect(found('2027-05-20 free K|26').map((one) => one.split(':')[0])).toEqual([
      '3',
      '5',
      '6',
      '7',
      '7',
      '9',
      '10',
      '11',
      '12',
      '14',
      '15',
    ]);
  });
  test('of a place, and of a hand', () => {
    expect(found('place y|ard')).toEqual(['2: yard', '12: yard', '13: yard']);
    expect(found('graft K26.12  by m|k,jo')).toEqual(['5: mk', '6: mk']);
  });
});

describe('highlight', () => {
  function lit(log: string): string[] | undefined {
    const { text, position } = caretIn(log);
    const folder = folderOf(text);
    const found = documentHighlight(folder.view(), position);
    return found?.map(
      ({ range, kind }) =>
        `${folder.text(folder.view().uri, range)}${kind === DocumentHighlightKind.Write ? ' *' : ''}`,
    );
  }
  test('a name wherever it stands, its declaration as the line that gives it', () => {
    expect(lit('place fra|me\nbatch K26 in frame\n2027-03-20 reading frame min 1C')).toEqual([
      '1: frame *',
      '2: frame',
      '3: frame',
    ]);
  });
  test('one graft: sets that can mean it, and where it is left out by its number', () => {
    expect(
      lit(
        '2026-10-09 graft K26.1..11\n2027-03-20 swell K26.1|2\n2027-03-21 swell K26\n2027-03-22 swell K26 except K26.12',
      ),
    ).toEqual(['2: K26.12', '3: K26', '4: K26.12']);
  });
  test('a hand, and no thing that has its name', () => {
    expect(lit('place mk\n2026-10-09 graft K26.1 in mk by m|k\n2026-10-09 graft K26.2 by jo, mk')).toEqual([
      '2: mk',
      '3: mk',
    ]);
  });
  test('elsewhere the editor’s own way is left to it', () => {
    expect(lit('2026-10-09 gra|ft K26.1')).toBe(undefined);
  });
});

describe('selection', () => {
  function grows(log: string): string[] {
    const { text, position } = caretIn(log);
    const folder: Folder = folderOf(text);
    const [found] = selectionRange(folder.view(), [position]);
    const steps: string[] = [];
    for (let step: SelectionRange | undefined = found; step; step = step.parent)
      steps.push(folder.text(folder.view().uri, step.range).replace(/^\d+: /, ''));
    return steps;
  }
  test('from the figure outward', () => {
    expect(grows('place p\n2026-10-09\ngraft K26.1..11  cut 4|0%  by mk  # wet\ngraft K26.12\n\n# end')).toEqual([
      '40%',
      'cut 40%',
      'cut 40%  by mk',
      'graft K26.1..11  cut 40%  by mk',
      'graft K26.1..11  cut 40%  by mk  # wet',
      '2026-10-09 … graft K26.12',
      'place p … # end',
    ]);
    expect(grows("2026-10-09 open B26 K26 except K26.1|4 20% 'x'").slice(0, 4)).toEqual([
      '14',
      'K26.14',
      'K26 except K26.14',
      "open B26 K26 except K26.14 20% 'x'",
    ]);
  });
  test('a remark’s words without their quotes; an empty line', () => {
    expect(grows('2026-10-09 check K26 "needles dr|y"').slice(0, 2)).toEqual(['needles dry', '"needles dry"']);
    expect(grows('|')).toEqual(['']);
  });
});
