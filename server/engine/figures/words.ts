import { excludesNone } from '#server/statistics/verdict.ts';
import { countText, numberText, percent } from '../say.ts';
import type { Comparison } from './compare.ts';
import type { GroupKey, Level, NumberKey } from './levels.ts';
import type { Ranking } from './ranking.ts';
import type { FactSlope } from './slopes.ts';
import type { Survival } from './survival.ts';
import { blurred, markedBy } from './tied-facts.ts';
import type { NextTry } from './try-next.ts';
import { capital, few, grafts, listText, more, points, signed } from './wording.ts';

/*
 * What figures say in sentences, the same on the command line and in the report. Never a word of proof: what can't be
 * told is said to be so.
 */

/** Fewer of the rarer outcome are not looked at: house default. */
const enoughRarer = 10;
const cantTell = 'can’t tell yet';

/** A against B, what it rests on, what can be told, and what goes together with it. `all`: comparisons of the run. */
export function comparisonSentence(comparison: Comparison, all: number): string {
  const { a, b, key, kind, difference, low, high, turned, tied, ages } = comparison;
  const [one, other] = [levelText(key, a), levelText(key, b)];
  const out: string[] = [];
  for (const turn of turned) {
    const [ahead, behind] = turn.crude > 0 ? [one, other] : [other, one];
    out.push(
      `Taken together ${ahead} is ${points(turn.crude)} ahead; with each ${keyNouns[turn.key]} by itself ${behind} is ${points(turn.within)} ahead: it is the ${keyNouns[turn.key]} that makes ${ahead} look better.`,
    );
  }
  const limits = low === null || high === null ? '' : ` (${rangeText(low, high)})`;
  if (kind === 'within') {
    const where = comparison.sittings === 1 ? 'In the sitting' : `In the ${comparison.sittings} sittings`;
    out.push(`${where} that had both, ${one} took ${moreThan(difference, other)}${limits}${told(comparison, all)}.`);
  } else {
    const subject = sharedWord(key) ? capital(one) : one;
    const rates = `${subject} took ${ofJudged(comparison.aTaken, comparison.aJudged)}, ${other} ${ofJudged(comparison.bTaken, comparison.bJudged)}`;
    if (kind === 'one-each') out.push(`${rates}: one batch each, how those two did, not why.`);
    else
      out.push(
        `${rates}, in ${countText(comparison.batches, 'batch', 'batches')}: ${one} ${more(difference)}${limits}${told(comparison, all)}.`,
      );
  }
  const never = tied.filter(({ word }) => word === 'never-apart').map((fact) => keyNouns[fact.key]);
  const mostly = tied.filter(({ word }) => word === 'mostly-together').map((fact) => keyNouns[fact.key]);
  const marked = markedBy(key, kind, tied);
  if (marked) out.push(`Each label had its own ${keyNouns[marked]}, so that is what it stands for.`);
  else if (never.length > 0) {
    const either = listText(
      [key, ...tied.filter(({ word }) => word === 'never-apart').map((fact) => fact.key)].map(
        (one) => `the ${keyNouns[one]}`,
      ),
      'or',
    );
    out.push(
      `But no ${listText(never, 'or')} had both ${one} and ${other}: whether it was ${either}, this record can’t say.`,
    );
  }
  if (mostly.length > 0) out.push(`Few of both had the same ${listText(mostly, 'or')}, which may be part of it.`);
  if (ages)
    out.push(
      `Last looked at when ${ageText(ages.a)} old against ${ageText(ages.b)}: late losses can show in the older only.`,
    );
  return out.join(' ');
}

/** The verdict; none where what follows takes it away: that something else went with the two throughout. */
function told({ word, low, high, a, b, key, kind, tied }: Comparison, all: number): string {
  if (word === 'better') return `: ${levelText(key, a)} did better`;
  if (word === 'worse') return `: ${levelText(key, b)} did better`;
  if (word === 'alike') return ': alike, to within 10 points';
  const looksSo = low !== null && high !== null && excludesNone({ low, high });
  if (!looksSo) return `: ${cantTell}`;
  if (blurred(key, kind, tied)) return '';
  return `: ${all > 1 ? `looks so, but among ${all} comparisons luck makes one` : cantTell}`;
}

/** Three blocks; no places, as they would claim more than is known. */
export function rankingSentence({ usual, items }: Ranking): string {
  const named = (word: 'better' | 'worse') =>
    items
      .filter((item) => item.word === word)
      .map(({ name, taken, judged }) => `${name} (${numberText(taken)} of ${numberText(judged)})`);
  const [better, worse] = [named('better'), named('worse')];
  const rest = items.length - better.length - worse.length;
  const out: string[] = [];
  if (better.length > 0) out.push(`Better than your usual ${percent(usual)}: ${better.join(', ')}.`);
  if (worse.length > 0)
    out.push(`${better.length > 0 ? 'Worse' : `Worse than your usual ${percent(usual)}`}: ${worse.join(', ')}.`);
  if (out.length === 0) return `Around your usual ${percent(usual)}: all ${items.length} can’t be told apart.`;
  if (rest === 1) out.push('The other one is like the usual, as far as can be told.');
  if (rest > 1) out.push(`The other ${rest} can’t be told apart.`);
  return out.join(' ');
}

/** Whether more of a fact went with more takes, in points between two values seen. */
export function slopeSentence(slope: FactSlope): string {
  const noun = factNouns[slope.fact];
  if (slope.word === 'one-value') return `${capital(noun)}: each batch had one ${noun}: that compares batches.`;
  const { lowAt, highAt, pointsLow, pointsHigh } = slope;
  if (slope.word === 'too-few' || lowAt === null || highAt === null || slope.points === null) {
    return `${capital(noun)}: ${tooFew(slope, noun)}.`;
  }
  const verdict = { better: 'more is better here', worse: 'less is better here', unclear: cantTell }[slope.word];
  const ends = `${pointsLow === null ? 'far fewer' : signed(pointsLow)} to ${pointsHigh === null ? 'far more' : signed(pointsHigh)}`;
  return `${capital(noun)}: in the same batches, ${valueText(slope.fact, highAt)} instead of ${valueText(slope.fact, lowAt)} went with ${more(slope.points)} takes (from ${ends}): ${verdict}.`;
}

function tooFew({ n, rarer }: FactSlope, noun: string): string {
  const several = `more than one ${noun} and both takes and losses`;
  if (n === 0) return `no batch judged so far had ${several}, so this record can’t say whether it matters`;
  // fitting asks for three values, too
  if (rarer >= enoughRarer)
    return `the batches with ${several} had two of them only; a third would show which way it goes`;
  const rare = `only ${rarer} were lost, or only ${rarer} took`;
  return `in the batches with ${several} ${rare}: too few to say whether it matters (${enoughRarer} to look at all, 20 for a strong effect)`;
}

/** When losses were seen; empty where there were none. */
export function survivalSentence({ halfOfLosses, median, late }: Survival): string {
  if (halfOfLosses === null) return '';
  const out = [`Half of the losses were seen by day ${halfOfLosses}.`];
  if (median !== null) out.push(`By day ${median} half of all were lost.`);
  if (late > 0) out.push(`${grafts(late)} lost after ${late === 1 ? 'it was' : 'they were'} called taken.`);
  return out.join(' ');
}

export function nextSentence(next: NextTry): string {
  if (next.kind === 'pair')
    return `Judge more of ${next.pair}: ${next.judged === 0 ? 'none is' : `${countText(next.judged, 'graft is', 'grafts are')}`} judged so far, and a plan for it rests on others.`;
  const ways = `${levelText(next.key, next.a)} and ${levelText(next.key, next.b)}`;
  const hands = next.key === 'hand';
  const done = hands ? `Let ${ways} graft` : `Graft ${ways}`;
  if (next.kind === 'apart') return `${done} in one batch on one day: ${next.each} each.`;
  const till = hands ? '' : ' Till then take the one that is less work.';
  return `${done} side by side in four sittings: ${next.each} each would show 20 points.${till}`;
}

export const keyNouns: Readonly<Record<GroupKey, string>> = {
  batch: 'batch',
  pair: 'pair',
  scion: 'scion',
  understock: 'understock',
  genus: 'genus',
  method: 'method',
  season: 'season',
  year: 'year',
  day: 'day',
  hand: 'hand',
  place: 'place',
  lot: 'lot of wood',
  wood: 'kind of wood',
  label: 'label',
  depth: 'depth of cut',
  store: 'time in store',
  long: 'length of face',
  whorls: 'number of whorls',
};

const factNouns: Readonly<Record<NumberKey, string>> = {
  depth: 'depth',
  store: 'time in store',
  long: 'length of face',
  whorls: 'number of whorls',
  'scion-size': 'thickness of scion',
};

/** A level in a sentence; of a key of classes with its key. */
export function levelText(key: GroupKey, level: Level): string {
  if (level === null) return key === 'label' ? 'no label' : `no ${keyNouns[key]} noted`;
  if (key === 'label') return `label ${level}`;
  if (key !== 'depth' && key !== 'store' && key !== 'long' && key !== 'whorls') return level;
  const usual = { below: 'below the usual', inside: 'as usual', above: 'above the usual', over: 'over the limit' }[
    level
  ];
  return `${keyNouns[key]} ${usual ?? level}`;
}

function valueText(fact: NumberKey, value: number): string {
  if (fact === 'depth') return percent(value);
  if (fact === 'store') return `${Math.round(value)} days`;
  const rounded = String(Math.round(value * 10) / 10);
  return fact === 'whorls' ? rounded : `${rounded}\u00A0mm`;
}

const moreThan = (share: number, other: string): string =>
  Math.round(share * 100) === 0 ? `as often as ${other}` : `${more(share)} than ${other}`;
const rangeText = (low: number, high: number): string => `from ${signed(low)} to ${signed(high)}`;
const ofJudged = (taken: number, judged: number): string =>
  judged < few ? `${taken} of ${judged}` : `${percent(taken / judged)} of ${numberText(judged)}`;
/** Levels that are words of the trade and no names, which keep their letters at a sentence's start. */
const sharedWord = (key: GroupKey): boolean =>
  !(['batch', 'hand', 'place', 'lot'] as const).some((name) => name === key);
const ageText = (days: number): string => {
  const months = Math.round(days / 30.44);
  return months < 24 ? countText(months, 'month') : countText(Math.round(days / 365.25), 'year');
};
