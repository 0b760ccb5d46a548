import type { Day } from '#grammar/statement.ts';
import { otherRate } from '#server/statistics/trial.ts';
import { countText, dayText, hoursText, numberText, percent, rangeText } from '../say.ts';
import type { Needs, RoomNeeded } from './needs.ts';
import type { PlanResult } from './plan.ts';
import type { SeasonAhead, SeasonWeek } from './season-ahead.ts';
import type { TrialResult } from './trial.ts';
import { capital, grafts, listText, separate, whole } from './wording.ts';
import { keyNouns } from './words.ts';

/** How many to graft and why, in a few sentences. */
export function planSentence({ plan, cap, rate, range, overThree }: PlanResult): string {
  const { takes, confidence, graft, chance, because } = plan;
  if (graft === null) {
    return `No number of grafts up to ${numberText(cap)} makes ${countText(takes, 'take')} ${percent(confidence)} sure; with ${numberText(cap)} it is ${percent(chance)}.`;
  }
  const out = [`For ${countText(takes, 'take')}, ${timesText(confidence)}: graft ${numberText(graft)}.`];
  if (because.naive < graft) {
    out.push(
      `(${numberText(takes)} / ${rate.toFixed(2)} = ${numberText(because.naive)} would reach it about half the time.)`,
    );
  }
  if (graft > 2 * because.naive) {
    if (range)
      out.push(`So many because your batches have gone from ${Math.round(range.low * 100)} to ${percent(range.high)}.`);
    else if (because.judged === 0) out.push('So many because nothing is on record yet.');
    else out.push('So many because one batch says little about the next.');
  }
  if (overThree !== null) out.push(`Spread over 3 batches on different days, ${numberText(overThree)} are enough.`);
  return out.join(' ');
}

/** What the number rests on, a sentence each. */
export function planGrounds({
  plan: { takes, confidence, because, graft, expected },
  rate,
  like,
  range,
  others,
}: PlanResult): string[] {
  const { judged, batches, effective, mean, prior } = because;
  const whose = like === null ? 'all pairs together' : like;
  const from =
    range && whole(range.low) !== whole(range.high)
      ? ` (${whole(range.low)} to ${percent(range.high)} from batch to batch)`
      : '';
  const worth = separate(Math.max(1, Math.round(effective)));
  const counts =
    batches === 1
      ? `one batch tells no more than ${worth} would`
      : `as batches differ, they tell no more than ${worth} would`;
  const took = `${numberText(Math.round(rate * judged))} of ${numberText(judged)} took in ${countText(batches, 'batch', 'batches')}`;
  const out = [
    judged === 0
      ? `Nothing ${like === null ? '' : `of ${like} `}is judged so far.`
      : `${capital(whose)}: ${took}${from}; ${counts}.`,
    `Before any record ${percent(prior.rate)} is expected (${prior.source.replace(/;.*$/, '')}); that counts as much as ${grafts(prior.weight)}.`,
  ];
  if (others && others.judged > 0)
    out.push(
      `Between the two stand other pairs of its kind made in the same season: ${numberText(others.taken)} of ${numberText(others.judged)} took.`,
    );
  if (like === null && judged > 0) out.push('That is for the same mix of pairs; one pair may do far better or worse.');
  const together = `All told ${percent(mean)} of the next are expected to take`;
  out.push(
    graft === null || expected === null
      ? `${together}.`
      : `${together}: about ${numberText(Math.round(expected))} of the ${numberText(graft)}, and ${numberText(takes)} or more ${timesText(confidence)}.`,
  );
  return out;
}

/** What so many grafts need, a sentence each; what can't be told is named with the word that is missing. */
export function needsSentences({ plan: { graft, needs }, like }: PlanResult, day: Day): string[] {
  if (graft === null || needs.scions === undefined || needs.wood === undefined) return [];
  const out = [
    `${countText(needs.scions, 'scion')}: cut wood for ${numberText(needs.wood)}, as some of it won’t do.`,
    `${countText(needs.understocks ?? 0, 'understock')}.`,
  ];
  if (needs.film !== undefined) out.push(`${numberText(Math.ceil(needs.film))}\u00A0m of film, half overlapped.`);
  if (needs.hours !== undefined) out.push(`${hoursText(needs.hours * 60)} at the bench.`);
  for (const place of needs.places ?? []) out.push(roomSentence(place, graft, day));
  if (like === null)
    out.push('What kind of graft isn’t said: name a pair or a batch, and film, room and work can be told.');
  else out.push(...needs.missing.map((what) => `Not told: ${missingText(what, needs.without ?? [])}.`));
  return out;
}

function missingText(what: Needs['missing'][number], without: readonly string[]): string {
  switch (what) {
    case 'film':
      return `film, as ${listText(
        without.map((key) => `\`${key}\``),
        'and',
      )} of such a graft ${without.length === 1 ? 'isn’t' : 'aren’t'} written`;
    case 'hours':
      return 'time at the bench, without a practice line `task graft`';
    case 'places':
      return 'room, as no place of theirs says its `capacity`';
    case 'season':
      return 'work over the season, as no batch of this pair is judged yet';
  }
}

function roomSentence({ name, from, to, capacity, standing, free }: RoomNeeded, graft: number, day: Day): string {
  const when = to === null ? `from ${dayText(from, day)}` : rangeText(from, to, day);
  const short =
    graft > free ? `, so ${countText(graft - free, 'place is', 'places are')} missing unless some move out` : '';
  return `Room for ${numberText(graft)} in ${name}, ${when}: it holds ${numberText(capacity)}, and ${standing === 0 ? 'is empty' : `${numberText(standing)} stand there`} today${short}.`;
}

/** The weeks in which these grafts alone want more hours than there are; empty where nobody said how many. */
export function seasonSentence({ after, there, weeks }: SeasonAhead, day: Day): string {
  const all = weeks.reduce((sum, { hours }) => sum + hours, 0);
  const busiest = weeks.reduce<SeasonWeek | undefined>(
    (most, week) => (most && most.hours >= week.hours ? most : week),
    undefined,
  );
  if (!busiest) return '';
  const out = [
    `As ${after} went: ${hoursText(all * 60)} in all, most of it ${rangeText(busiest.from, busiest.to, day)} with ${hoursText(busiest.hours * 60)}.`,
  ];
  const over = weeks.filter(({ short }) => short > 0);
  if (there === null) out.push('Say how many hours a week you have, and the work is held against them.');
  else if (over.length === 0)
    out.push(`No week wants more than the ${hoursText(there * 60)} there are; other batches come on top.`);
  else
    out.push(
      `More than the ${hoursText(there * 60)} there are: ${over.map(({ from, to, short }) => `${rangeText(from, to, day)}, ${hoursText(short * 60)} short`).join('; ')}. Other batches come on top.`,
    );
  return out.join(' ');
}

/** `9 times in 10`. */
function timesText(confidence: number): string {
  for (const of of [10, 20, 100, 1000]) {
    const times = confidence * of;
    if (Math.abs(times - Math.round(times)) < 1e-9) return `${Math.round(times)} times in ${of}`;
  }
  return `with a chance of ${percent(confidence)}`;
}

/** How large a trial, whether it is in reach, and what is. */
export function trialSentence({ trial, key, pace }: TrialResult): string {
  const { rate, points, each, sittings, batchesEach, floor, reachable, smallest } = trial;
  const other = otherRate(rate, points);
  const which = other > rate ? 'better' : 'worse';
  const better = `To see that one way is ${whole(points)} points ${which} (${whole(other)} against ${percent(rate)})`;
  const out: string[] = [];
  if (each !== null && sittings !== null) {
    out.push(
      `${better}: ${numberText(each)} grafts of each, over at least ${sittings} sittings with half of one and half of the other.`,
    );
    if (!reachable)
      out.push(`At your ${numberText(Math.round(pace.grafts))} grafts a year that is over 3 years: not in reach.`);
  } else {
    const takes = (2 * batchesEach) / pace.batches;
    out.push(
      `${better} by ${keyNouns[key]}: ${countText(batchesEach, 'batch', 'batches')} each, and never fewer than ${floor}, however large they are.`,
    );
    out.push(
      reachable
        ? `At your ${batchesText(pace.batches)} a year that is done in ${countText(Math.ceil(takes), 'year')}.`
        : `At your ${batchesText(pace.batches)} a year that is over ${Math.floor(takes)} years: not in reach.`,
    );
  }
  if (!reachable) {
    out.push(
      smallest === null
        ? 'No difference up to 40 points is in reach.'
        : `In 3 years a difference of ${Math.round(smallest * 100)} points or more would show.`,
    );
  }
  return out.join(' ');
}

/** What the answer rests on and how far it reaches. */
export function trialGrounds({ trial: { each }, from: source }: TrialResult): string {
  const from = {
    ways: 'what these two did on record',
    record: 'all that is on record, as neither of the two is judged',
    practice: 'what practice expects, as nothing is judged',
  }[source];
  const reach = 'One season’s trial answers for that season.';
  return each === null
    ? `It starts from ${from}. A batch can hold one way only, and batches differ by more than their grafts. ${reach}`
    : `It starts from ${from}. Eight such trials in ten would show the difference, if there is one. ${reach}`;
}

/** `1 batch`, `1.5 batches`: a year’s pace. */
const batchesText = (figure: number): string => countText(Math.round(figure * 10) / 10, 'batch', 'batches');
