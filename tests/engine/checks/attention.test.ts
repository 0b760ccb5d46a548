import { test } from 'vitest';
import { expectFindings, nursery } from './support.ts';

/*
 * What waits for an answer. Seven, fourteen, sixty days: house defaults.
 */

test('mould unanswered for more than seven days, a biting tie for more than fourteen', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-03-20  swell  A26
2027-05-20  free   A26
2027-06-12  check  A26.1,2  mould
#                           ^^^^^ information mould-left: Mould seen 8 days ago, nothing since: air them.
2027-06-13  check  A26.3  wet
2027-06-05  check  A26.4..6  biting
#                            ^^^^^^ warning tie-biting: The tie was biting 15 days ago, nothing since: bind it again, looser.
2027-06-06  check  A26.7  biting
2027-06-05  treat  A26.5  "as the label says"
2027-06-10  retie  A26.6
`,
    { on: '2027-06-20' },
  );
});

test('silent: sixty days before the take, counted outside winter', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2026-10-20  check  A26.1..5  green
#                  ^^^^^^^^ information silent: No word on A26 for 208 days.
`,
    { on: '2027-05-16' },
  );
});

test('asleep till its window is past', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
`,
    { on: '2027-05-15' },
  );
});

test('sixty days are not yet long', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-04-20  swell  A26
2027-05-01  check  A26  green
`,
    { on: '2027-06-30' },
  );
});

test('sixty-one are', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-04-20  swell  A26
2027-05-01  check  A26  green
#                  ^^^ information silent: No word on A26 for 61 days.
`,
    { on: '2027-07-01' },
  );
});

test('told on the last line that names the batch, be it the one of those that are lost', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-04-20  swell  A26
2027-05-01  take   A26.1..20 x12
2027-05-01  fail   A26 rest
#                  ^^^^^^^^ information silent: No word on A26 for 610 days.
`,
    { on: '2028-12-31' },
  );
});

test('after three years it is history', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-04-20  swell  A26
2027-05-01  check  A26  mould
`,
    { on: '2030-05-02' },
  );
});

test('a reading in the place is a word, too', () => {
  expectFindings(
    `
${nursery}
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in frame
2026-10-10  graft  A26.1..20
2027-04-20  swell  A26
2027-06-10  reading  frame  min 12C
`,
    { on: '2027-07-20' },
  );
});
