import { countText, numberText, percent } from '../say.ts';
import type { Group } from './groups.ts';
import { few, grafts, listText, separate, whole } from './wording.ts';

/** Batches that differ so much differ by more than luck. */
const farMore = 0.15;
/** Names in a list before it says how many more. */
const named = 4;

/** How a group did, in one to three sentences; empty where nothing was made. */
export function groupSentence(group: Group): string {
  if (group.grafted === 0) return '';
  if (group.taken + group.failed === 0) return `Not judged yet: ${grafts(group.grafted)}.`;
  const sentences = group.basis === 'batch' ? batchSentences(group) : pooledSentences(group);
  return [...sentences, ...leftOut(group)].join(' ');
}

function batchSentences(group: Group): string[] {
  const { grafted, taken, failed, open, early, rate, low, high, expected } = group;
  const judged = taken + failed;
  const out: string[] = [];
  if (open * 5 > grafted) {
    out.push(
      `${numberText(taken)} of ${numberText(grafted)} took so far, ${numberText(failed)} lost, ${numberText(open)} to judge.`,
    );
  } else if (judged < few || rate === null || low === null || high === null) {
    out.push(`${taken} of ${judged} took.`);
  } else {
    const soFew = judged < 20 ? ' with so few' : '';
    const range = `from ${whole(low)} to ${percent(high)}`;
    out.push(
      `${numberText(taken)} of ${numberText(judged)} judged took: ${percent(rate)}, and ${range} would be no surprise${soFew}.`,
    );
  }
  if (open > 0 && expected !== null) out.push(expectedSentence(expected, grafted));
  else if (open > 0) {
    out.push(
      `${numberText(open)} still to judge: ${numberText(taken)} to ${numberText(taken + open)} of ${numberText(grafted)} in the end.`,
    );
  }
  if (early > 0) out.push(earlySentence(early, taken));
  return [...out, ...lateSentences(group), ...oneBatch(group)];
}

function pooledSentences(group: Group): string[] {
  const { grafted, taken, failed, open, early, rate, batches } = group;
  const counted = `${numberText(taken)} of ${numberText(taken + failed)} took in ${countText(batches, 'batch', 'batches')}`;
  const usual = usualSentence(group);
  if ((taken + failed) * 2 < grafted)
    return [`${counted}; ${numberText(open)} of ${numberText(grafted)} still to judge.`];
  if (!usual || rate === null) return [`${counted}.`, ...youngSentences(group)];
  const out = [
    `${counted}: ${percent(rate)}${open * 5 > grafted ? ' of those judged' : ''}.`,
    usual,
    ...youngSentences(group),
  ];
  if (open > 0)
    out.push(
      `${numberText(open)} still to judge${early > 0 ? `, ${numberText(early)} of them called taken too early to count on` : ''}.`,
    );
  return out;
}

/**
 * What a table doesn't hold of a group, a sentence each: causes, what those to judge may still do, how far several batches
 * can be counted on.
 */
export function groupNotes(group: Group): string[] {
  const { taken, failed, open, grafted, worst, best, early, expected, basis } = group;
  const out: string[] = [];
  const causes = causesText(group.causes);
  if (causes) out.push(`lost: ${causes}`);
  if (open > 0 && taken + failed > 0 && worst !== null && best !== null)
    out.push(`with the ${numberText(open)} to judge: ${percent(worst)} at worst, ${percent(best)} at best`);
  if (expected !== null) out.push(expectedSentence(expected, grafted));
  if (early > 0)
    out.push(
      basis === 'batch'
        ? earlySentence(early, taken)
        : `${numberText(early)} called taken too early: still to judge here.`,
    );
  const usual = (taken + failed) * 2 >= grafted ? usualSentence(group) : '';
  return [
    ...out,
    ...lateSentences(group),
    ...(usual ? [usual] : []),
    ...unjudgedSentences(group),
    ...youngSentences(group),
    ...oneBatch(group),
    ...leftOut(group),
  ];
}

/** `9 dried, 3 no cause noted`: the commonest first. */
function causesText(causes: Group['causes']): string {
  return Object.entries(causes)
    .sort((a, b) => b[1] - a[1])
    .map(([cause, count]) => `${numberText(count)} ${cause === 'unknown' ? 'no cause noted' : cause}`)
    .join(', ');
}

/** How many separate grafts several batches are worth, and the usual rate they leave room for. */
function usualSentence({ taken, failed, low, high, batches, effective, spread, basis }: Group): string {
  if (basis === 'batch' || taken + failed < few || low === null || high === null) return '';
  const worth = separate(Math.max(1, Math.round(effective ?? taken + failed)));
  const why =
    (spread ?? 0) >= farMore
      ? `The ${batches} batches differ far more than luck does, so they tell no more than ${worth} would`
      : `As batches differ, these ${batches} tell no more than ${worth} would`;
  return `${why}: the usual rate lies between ${whole(low)} and ${percent(high)}.`;
}

function youngSentences({ young }: Group): string[] {
  if (young.length === 0) return [];
  const rest = young.length - named;
  const names = rest > 0 ? `${young.slice(0, named).join(', ')} and ${rest} more` : listText(young, 'and');
  return [`Less than half judged: ${names}. Losses show before takes, so the rate is too low as yet.`];
}

/** Else the number of batches beside all that was made would seem to be those that were made. */
const unjudgedSentences = ({ batches, unjudged }: Group): string[] =>
  unjudged > 0
    ? [`Of ${batches + unjudged} batches ${unjudged} have nothing judged yet.`.replace(/ 1 have/, ' one has')]
    : [];

const expectedSentence = (expected: number, grafted: number): string =>
  `Going by older batches at this age, about ${numberText(Math.round(expected * grafted))} of ${numberText(grafted)} will have taken in the end.`;

const earlySentence = (early: number, taken: number): string =>
  early === taken
    ? `${taken === 1 ? 'It was' : `All ${numberText(taken)} were`} called taken too early to count on.`
    : `${numberText(early)} called taken too early to count on.`;

const lateSentences = ({ late }: Group): string[] =>
  late > 0 ? [`${grafts(late)} lost after ${late === 1 ? 'it was' : 'they were'} called taken.`] : [];

const oneBatch = ({ key, basis, batches, grafted, taken, failed }: Group): string[] =>
  basis === 'batch' && key.batch === undefined && batches === 1 && taken + failed > 0 && (taken + failed) * 2 >= grafted
    ? ['That is how one batch did, not how the next will.']
    : [];

const leftOut = ({ excluded }: Group): string[] =>
  excluded > 0 ? [`${grafts(excluded)} left out: lost ones were counted over several.`] : [];
