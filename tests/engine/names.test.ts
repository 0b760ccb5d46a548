import { describe, expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { dayOf, expectLogFindings, findingsText, logOf, mended } from '../support/log.ts';

describe('names are declared once, anywhere in the log', () => {
  test('a thing may be declared below the lines that use it, and in another file', () => {
    const view = logOf({
      '2026.graft': '2026-10-09  graft K26.1..4  in frame\n',
      'things.graft': 'batch K26  Pinus mugo\nplace frame\n',
    });
    expect(findingsText(view)).toEqual([]);
  });

  test('what nothing declares is told, a place and a tree as a warning', () => {
    expectLogFindings(`
batch K26  Pinus mugo  side-veneer
2026-10-09  graft K26.1..4  in shed
#                              ^^^^ warning unknown-place: No place \`shed\` in this log: a line \`place shed …\` says what it shelters from.
2026-10-09  graft K26.5  onto T9
#                             ^^ warning unknown-tree: No tree \`T9\` in this log: a line \`tree T9 …\` says what it is and where it stands.
2026-10-09  graft K26.6  lot L9
#                            ^^ error unknown-lot: No lot \`L9\` in this log: a line \`collect L9 …\` says when its wood was cut.
2027-03-20  swell K62
#                 ^^^ error unknown-batch: No batch \`K62\` in this log: a line \`batch K62 …\` says what its grafts are.
batch K27  like K25
#               ^^^ error unknown-batch
`);
  });

  test('a target of another kind is an unknown batch, of a verb for places an unknown place', () => {
    expectLogFindings(`
place frame
batch K26  Pinus mugo
2026-10-09  graft K26.1
2027-03-20  swell frame
#                 ^^^^^ error unknown-batch: \`frame\` is a place: \`swell\` is said of grafts.
2027-03-20  reading K26  min 1C
#                   ^^^ warning unknown-place: \`K26\` is a batch: \`reading\` is said of a place.
2027-03-21  move K26  to K26
#                        ^^^ warning unknown-place: \`K26\` is a batch: here the name of a place is due.
`);
  });

  test('a bare word behind the target that nothing explains is a slip in a word or in a name', () => {
    expectLogFindings(`
batch K26  Pinus mugo
batch S27  Pinus mugo
2026-10-09  graft K26.1..4
2026-10-09  graft S27.1..4
2027-03-20  fail K26.1  dreid
#                       ^^^^^ error unknown-word: \`dreid\` is no word for a line with \`fail\` and no name in this log. Is it \`dried\`?
2027-03-20  fail K26.2  dri
#                       ^^^ error unknown-word: \`dri\` is no word for a line with \`fail\` and no name in this log. Is it \`dried\`?
2027-03-20  swell K26 S72
#                     ^^^ error unknown-word
`);
  });

  test('given twice, a word of the notation, a second site, a second lot of one name', () => {
    expectLogFindings(`
site Drumlin-Lane
site Drumlin-Hill
#^^^ error repeated-name: A second \`site\`: one log is one nursery, and the first line holds.
place frame
tree frame  Pinus mugo
#    ^^^^^ error repeated-name: \`frame\` is the name of a place: a name is given once in the whole log.
place shade
#     ^^^^^ error repeated-name: \`shade\` is a word of the notation: give it a name of its own, such as \`shade-1\`.
batch summer
#     ^^^^^^ error repeated-name
2026-01-04  collect L8  Pinus mugo
2026-02-04  collect l8  Pinus mugo
#                   ^^ error repeated-name: \`l8\` has been collected: more wood is a new lot, under a name of its own.
`);
  });

  test('the words of a place name that fell apart are one finding', () => {
    expectLogFindings(`
place frame
batch K26  Pinus mugo
2026-10-09  graft K26.1..4  in cold frame
#                              ^^^^^^^^^^ warning unknown-place: A name holds together: \`cold-frame\`.
2026-10-10  move K26  to cold frame
#                        ^^^^^^^^^^ warning unknown-place: A name holds together: \`cold-frame\`.
`);
  });

  test('people are apart: they are never declared and never clash', () => {
    expect(
      findingsText(logOf('batch K26  Pinus mugo  by O’Brien\n2026-10-09  graft K26.1..4  by mk,jo\nplace mk\n')),
    ).toEqual([]);
  });

  test('an `in` on a line `onto` a tree contradicts it', () => {
    expectLogFindings(`
place frame
tree T3  Pinus mugo  in frame
batch K26  Pinus mugo
2026-10-09  graft K26.1  onto T3  in frame
#                                 ^^^^^^^^ error contradiction: A graft \`onto\` a tree stands where the tree stands: \`in\` goes on the tree’s line.
`);
  });
});

describe('mends of names', () => {
  test('a near name, or the line that declares it', () => {
    const view = logOf('place frame\nplace yard\nbatch K26  Pinus mugo\n2026-10-09  graft K26.1  in frmae\n');
    const [finding] = view.findings();
    expect(finding?.mends?.map((mend) => mend.title)).toEqual(['Write frame', 'Declare place frmae']);
    expect(finding && mended(view, finding, 'Write frame')).toEqual(['2026-10-09  graft K26.1  in frame']);
    expect(finding && mended(view, finding, 'Declare place frmae')).toEqual(['place frmae']);
  });

  test('a place that is declared in the meantime takes the finding away, and its mends with it', () => {
    const view = logOf('batch K26  Pinus mugo\n2026-10-09  graft K26.1  in shed\n');
    expect(findingsText(view)).toEqual(['2 warning unknown-place']);
    view.apply(
      view.log.applyEdit(
        'log.graft',
        { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
        'place shed\n',
      ),
    );
    expect(findingsText(view)).toEqual([]);
  });
});

describe('files', () => {
  const season = 'site Drumlin-Lane\nbatch K26  Pinus mugo\n2026-10-09  graft K26.1..4\n2027-03-20  swell K26\n';

  test('a copy that a sync program left takes no part: one finding, on its first line', () => {
    const view = logOf({ 'log (copy).graft': season, 'log.graft': season });
    expect(view.findings().map(({ entry, code, message }) => [entry.file, code, message])).toEqual([
      [
        'log (copy).graft',
        'repeated-name',
        '`log (copy).graft` holds the same lines as `log.graft`: a copy takes no part.',
      ],
    ]);
  });

  test('a copy that is changed is a file of its own again, and a file that is gone leaves its place to the copy', () => {
    const view = logOf({ 'a.graft': season, 'bb.graft': season });
    view.apply(
      view.log.applyEdit('bb.graft', { start: { line: 3, character: 18 }, end: { line: 3, character: 21 } }, 'K26.1'),
    );
    expect(
      view
        .findings()
        .filter(({ entry }) => entry.file === 'bb.graft')
        .map(({ code }) => code),
    ).toEqual(['repeated-name', 'repeated-name', 'repeated-graft']);
    view.apply(
      view.log.applyEdit('bb.graft', { start: { line: 3, character: 18 }, end: { line: 3, character: 23 } }, 'K26'),
    );
    expect(view.findings()).toHaveLength(1);
    view.apply(view.log.removeFile('a.graft'));
    expect(view.findings()).toHaveLength(0);
    expect(view.log.names.declared('k26')?.entry.file).toBe('bb.graft');
  });
});

test('a name that is taken is offered with the next free number', () => {
  const offered = (text: string) => {
    const log = new Log();
    log.addFile('log.graft', text);
    const found = [...log.lineFindings()].filter(({ code }) => code === 'repeated-name');
    return found.map(({ mends }) => (mends ?? []).map(({ title }) => title).join());
  };
  expect(offered('batch K09  Pinus mugo\nbatch K10  Pinus mugo\nbatch K09  Pinus mugo\n')).toEqual(['Name it K11']);
  expect(offered('place frame\nplace frame\n')).toEqual(['Name it frame-2']);
  const taken = Array.from({ length: 101 }, (_, i) => `tree T${i}  Pinus mugo\n`).join('');
  expect(offered(`${taken}tree T0  Pinus mugo\n`)).toEqual(['']);
});

test('a name that no batch has may be asked about: nothing more is found for it', () => {
  const log = new Log();
  log.addFile('a.graft', '2026-10-09\ntake  tent\n');
  const answers = new Answers(log, dayOf('2026-10-10'));
  const codes = () => answers.findingsIn('a.graft').map(({ code }) => code);
  expect(codes()).toEqual(['unknown-batch']);
  expect(answers.of('tent').history.cohorts).toEqual([]);
  expect(codes()).toEqual(['unknown-batch']);
});
