import pc from 'picocolors';
import { expect, test } from 'vitest';
import { toDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { findingsText } from '#server/node/cli/findings-text.ts';
import { pageFor } from '#server/node/cli/print.ts';

/** What `check` prints of two files, as it is read on a terminal or by another program. */
function printed(read: boolean): string {
  const log = new Log();
  log.addFile(
    'years/2026.graft',
    `place frame  frost-free shade wind-break
batch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft K26.1  cut 22%
graft K26.2  cut 40%  long 30cm
`,
  );
  log.addFile('years/2027.graft', '2027-03-20\nopne K26 10%\n');
  const answers = new Answers(log, toDay(2027, 4, 1));
  const found = answers.findings();
  const lineOf = (finding: (typeof found)[number]) =>
    (log.document(finding.entry.file)?.lineOf(finding.entry) ?? 0) + 1;
  return findingsText(found, lineOf, { color: pc.createColors(false), wide: true, read }, 2).replaceAll('\u00A0', ' ');
}

test('on a terminal: under their files, broken for 80 columns, each with its code', () => {
  expect(printed(true)).toBe(`years/2026.graft
  4  information  Cut 22 % deep: side-veneer grafts are cut 30 to 50 %, so the
                  scion is held and enough cambium lies bare. (cut-shallow)
  5  error        \`long\` 30cm: 4 to 120 mm is plausible; is a figure or a unit
                  slipped? (unit-slip)

years/2027.graft
  2  error        \`opne\` is no verb of the notation. Is it \`open\`?
                  (unknown-word)

2 errors, 1 information in 2 files.
`);
});

test('for other programs: a line each, with its place', () => {
  const lines = printed(false).split('\n');
  expect(lines.slice(0, 3).map((line) => line.split(': ', 3))).toEqual([
    ['years/2026.graft:4:14', 'information cut-shallow', 'Cut 22 % deep'],
    ['years/2026.graft:5:28', 'error unit-slip', expect.stringMatching(/^`long` 30cm/)],
    ['years/2027.graft:2:1', 'error unknown-word', expect.stringMatching(/^`opne`/)],
  ]);
});

test('an editor’s own terminal leads from lines to places, so it gets lines', () => {
  const read = (stream: { isTTY?: boolean }, env: NodeJS.ProcessEnv) => pageFor(undefined, stream, env).read;
  expect([read({ isTTY: true }, {}), read({ isTTY: true }, { TERM_PROGRAM: 'vscode' }), read({}, {})]).toEqual([
    true,
    false,
    false,
  ]);
});
