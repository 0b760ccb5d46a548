import type { Severity } from './finding.ts';

interface CodeRow {
  /** Who finds it: one line alone; the log's names, days and histories; practice; attention, which depends on today. */
  readonly found: 'line' | 'log' | 'practice' | 'attention';
  /** The highest it can have; a check may say less where practice does. */
  readonly severity: Severity;
  /** In a few words, as the reference and the pages are headed. */
  readonly title: string;
}

/** THE codes: every finding has one, each has a page `pages/<code>.md`. The key is the id; released ids stay. */
export const codes = {
  unreadable: { found: 'line', severity: 'error', title: 'a word or mark that can’t be read here' },
  'unknown-word': { found: 'line', severity: 'error', title: 'a word the notation doesn’t know here' },
  'bad-date': { found: 'line', severity: 'error', title: 'a date that is no day, or can be read two ways' },
  'no-date': { found: 'log', severity: 'error', title: 'work without a day' },
  'missing-value': { found: 'line', severity: 'error', title: 'a fact without its value' },
  'wrong-unit': { found: 'line', severity: 'error', title: 'a figure without its unit, or with the wrong one' },
  'decimal-comma': { found: 'line', severity: 'warning', title: 'a decimal comma' },
  'unknown-batch': { found: 'log', severity: 'error', title: 'a batch nothing declares' },
  'unknown-graft': { found: 'log', severity: 'error', title: 'a graft that was never made' },
  'unknown-place': { found: 'log', severity: 'warning', title: 'a place nothing declares' },
  'unknown-lot': { found: 'log', severity: 'error', title: 'a lot nobody collected' },
  'unknown-tree': { found: 'log', severity: 'warning', title: 'a tree nothing declares' },
  'repeated-graft': { found: 'log', severity: 'error', title: 'a graft made twice' },
  'repeated-name': { found: 'log', severity: 'error', title: 'a name given twice, or a word of the notation' },
  'future-date': { found: 'log', severity: 'warning', title: 'a day that is still to come' },
  'before-graft': { found: 'log', severity: 'error', title: 'work on grafts not made yet' },
  'after-end': { found: 'log', severity: 'error', title: 'work on grafts that are lost or sold' },
  contradiction: { found: 'log', severity: 'error', title: 'two things that can’t both hold' },
  'count-exceeds': { found: 'log', severity: 'error', title: 'more than there are' },
  'unit-slip': { found: 'line', severity: 'error', title: 'a figure no graft can have' },
  'wrap-shrank': { found: 'log', severity: 'error', title: 'a wrap less open than before' },
  'set-too-large': { found: 'line', severity: 'error', title: 'a set too large to be meant' },
  'cut-shallow': { found: 'practice', severity: 'warning', title: 'a cut too shallow to hold the scion' },
  'cut-deep': { found: 'practice', severity: 'warning', title: 'a cut that weakens the branch' },
  'cut-missing': { found: 'practice', severity: 'hint', title: 'no depth of cut noted' },
  'face-short': { found: 'practice', severity: 'warning', title: 'a long face too short to heal' },
  'faces-level': { found: 'practice', severity: 'warning', title: 'a second face as long as the first' },
  'whorls-few': { found: 'practice', severity: 'warning', title: 'no needles left on the scion' },
  'whorls-many': { found: 'practice', severity: 'warning', title: 'more needles than the union can feed' },
  'wood-soft': { found: 'practice', severity: 'warning', title: 'soft scion wood' },
  'wood-old': { found: 'practice', severity: 'warning', title: 'old scion wood' },
  'wood-pruned': { found: 'practice', severity: 'warning', title: 'scion wood pruned too lately' },
  'scion-short': { found: 'practice', severity: 'information', title: 'a short scion' },
  'scion-thick': { found: 'practice', severity: 'information', title: 'a scion thicker than its stock' },
  'side-top': { found: 'practice', severity: 'warning', title: 'a scion set on top of the branch' },
  'far-out': { found: 'practice', severity: 'information', title: 'a scion set far out' },
  'cambium-unmatched': { found: 'practice', severity: 'warning', title: 'edges that can’t meet' },
  'joint-reset': { found: 'practice', severity: 'warning', title: 'a scion moved after it was set' },
  'pair-poor': { found: 'practice', severity: 'warning', title: 'a pair that does poorly' },
  'pair-never': { found: 'practice', severity: 'warning', title: 'a pair that doesn’t live' },
  'season-off': { found: 'practice', severity: 'warning', title: 'a season that costs takes' },
  'stored-long': { found: 'practice', severity: 'warning', title: 'wood stored too long' },
  'stored-warm': { found: 'practice', severity: 'warning', title: 'wood stored too warm' },
  'wrap-missing': { found: 'practice', severity: 'warning', title: 'nothing keeps the scion from drying' },
  'frost-cover-missing': { found: 'practice', severity: 'warning', title: 'no cover against frost' },
  'sun-cover-missing': { found: 'practice', severity: 'warning', title: 'no shade' },
  'wind-cover-missing': { found: 'practice', severity: 'warning', title: 'no shelter from wind' },
  froze: { found: 'practice', severity: 'warning', title: 'frost where untaken grafts stood' },
  'too-hot': { found: 'practice', severity: 'warning', title: 'heat where grafts are wrapped' },
  'swell-early': { found: 'practice', severity: 'information', title: 'buds moving before the union is sound' },
  'open-early': { found: 'practice', severity: 'warning', title: 'opened before any swelling was noted' },
  'open-wide': { found: 'practice', severity: 'warning', title: 'opened too far at once' },
  'open-soon': { found: 'practice', severity: 'warning', title: 'opened again too soon' },
  'dry-opened': { found: 'practice', severity: 'warning', title: 'opened further though found dry' },
  'union-uncovered': { found: 'practice', severity: 'warning', title: 'the union bared too early' },
  'headback-early': { found: 'practice', severity: 'warning', title: 'the understock cut back too early' },
  'headback-hard': { found: 'practice', severity: 'warning', title: 'the understock cut back too hard' },
  'take-early': { found: 'practice', severity: 'information', title: 'judged too early' },
  'place-full': { found: 'practice', severity: 'information', title: 'more grafts than the place holds' },
  overdue: { found: 'attention', severity: 'information', title: 'work that can’t wait and is late' },
  'mould-left': { found: 'attention', severity: 'information', title: 'mould or wet with no answer' },
  'tie-biting': { found: 'attention', severity: 'warning', title: 'a biting tie with no answer' },
  silent: { found: 'attention', severity: 'information', title: 'no word for a long time' },
} as const satisfies Record<string, CodeRow>;

export type Code = keyof typeof codes;
export type CodeFound<F extends CodeRow['found']> = {
  [C in Code]: (typeof codes)[C]['found'] extends F ? C : never;
}[Code];

export const allCodes = Object.keys(codes) as Code[];
export const isCode = (word: string): word is Code => Object.hasOwn(codes, word);
