import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { quoted } from './cells.ts';
import type { Visit } from './model.ts';
import { type Loss, readCount, readLosses, readVerdict } from './words.ts';

/** The cells that say how a row's grafts did; blank ones are ''. */
export interface OutcomeCells {
  readonly take: string;
  readonly fail: string;
  readonly cause: string;
  readonly share: string;
  /** Days read from `take` and `fail` themselves, where they hold dates, and from the columns of days. */
  readonly takeDay?: Day;
  readonly failDay?: Day;
  readonly judged?: Day;
}

export interface Outcome {
  readonly visits: readonly Visit[];
  /** Cells that could not be read: they belong in the remark. */
  readonly unread: readonly ('take' | 'fail' | 'cause' | 'share')[];
  /** Cells read as not judged yet. */
  readonly open: readonly ('take' | 'fail')[];
}

/** What a row says of `made` grafts; or why the row can't be taken. `today` is for what has no day. */
export function outcomeOf(cells: OutcomeCells, made: number, day: Day, today: Day): Outcome | { readonly why: string } {
  const unread: ('take' | 'fail' | 'cause' | 'share')[] = [];
  const open: ('take' | 'fail')[] = [];
  let took = cells.takeDay === undefined ? undefined : made;
  let losses: readonly Loss[] | undefined = cells.failDay === undefined ? undefined : [{ cause: 'unknown' }];
  const all = (count: number) => ({ all: count === made, count });

  if (cells.take !== '') {
    const verdict = verdictOf(cells.take, made);
    if (!verdict) unread.push('take');
    else if (verdict.kind === 'open') open.push('take');
    else if (verdict.kind === 'yes') took = made;
    else if (verdict.kind === 'count') took = verdict.count;
    else {
      if (took !== undefined) return { why: 'it has a day it took, and is said not to have taken' };
      losses = verdict.kind === 'cause' ? verdict.losses : [{ cause: 'unknown' }];
    }
  }
  if (cells.fail !== '') {
    const verdict = verdictOf(cells.fail, made);
    if (!verdict) unread.push('fail');
    else if (verdict.kind === 'open' || verdict.kind === 'no') open.push('fail');
    else if (verdict.kind === 'yes') losses ??= [{ cause: 'unknown' }];
    else if (verdict.kind === 'cause') losses = verdict.losses;
    else if (verdict.kind === 'count') losses = [{ cause: 'unknown', count: verdict.count }];
  }
  if (cells.share !== '') {
    const count = countOfShare(cells.share, made);
    if (count === undefined || (took !== undefined && took !== count)) unread.push('share');
    else took ??= count;
  }
  if (cells.cause !== '') {
    const named = readLosses(cells.cause);
    const joined = named && joinedLosses(losses, named, made, took);
    if (joined) losses = joined;
    else unread.push('cause');
  }

  losses = losses?.filter(({ count }) => count !== 0);
  const lost = losses?.reduce((sum, { count }) => sum + (count ?? made), 0) ?? 0;
  if (took !== undefined && took > made) return { why: `${took} taken of ${made}` };
  if (lost > made) return { why: `${lost} lost of ${made}` };
  const takeDay = cells.takeDay ?? cells.judged ?? today;
  const failDay = cells.failDay ?? cells.judged ?? today;
  // what took may be lost later; that the sheet must say with two days
  const later = cells.takeDay !== undefined && cells.failDay !== undefined && cells.takeDay <= cells.failDay;
  if ((took ?? 0) + lost > made && !(later && took === made))
    return {
      why: made === 1 ? 'it is said to have taken and to be lost' : `${took} taken and ${lost} lost of ${made}`,
    };
  const visits: Visit[] = [];
  const dated = (known: Day | undefined) => (known ?? cells.judged) === undefined;
  if (took) visits.push(visit('take', takeDay, all(took), '', dated(cells.takeDay)));
  for (const loss of losses ?? [])
    visits.push(visit('fail', failDay, all(loss.count ?? made), lossText(loss), dated(cells.failDay)));
  const early = visits.find((one) => one.day < day);
  if (early)
    return {
      why: `it is judged on ${isoDay(early.day)}, before it was made on ${isoDay(day)}${early.undated ? ' (--on says another day)' : ''}`,
    };
  return { visits, unread, open };
}

/** One graft: 1 and 0 are yes and no. Several: they are counts. */
function verdictOf(cell: string, made: number) {
  const count = made === 1 ? undefined : readCount(cell);
  if (count !== undefined) return { kind: 'count', count } as const;
  const of = /^\s*(\d{1,6})\s*(?:\/|of|out of)\s*(\d{1,6})\s*$/i.exec(cell);
  if (of) return Number(of[2]) === made ? ({ kind: 'count', count: Number(of[1]) } as const) : undefined;
  return readVerdict(cell);
}

/** A share of grafts that only one whole number can be meant by. */
function countOfShare(cell: string, made: number): number | undefined {
  const figure = /^\s*(\d{1,3}(?:[.,]\d+)?)\s*%?\s*$/.exec(cell)?.[1]?.replace(',', '.');
  if (figure === undefined) return undefined;
  const decimals = figure.split('.')[1]?.length ?? 0;
  const fits = Array.from({ length: Math.min(made, 1000) + 1 }, (_, i) => i).filter(
    (count) => Math.abs((100 * count) / made - Number(figure)) <= 0.5 / 10 ** decimals,
  );
  return made <= 1000 && fits.length === 1 ? fits[0] : undefined;
}

/** The cause beside the count of losses; where only a cause is given, a single graft is lost by it. */
function joinedLosses(
  losses: readonly Loss[] | undefined,
  named: readonly Loss[],
  made: number,
  took: number | undefined,
): readonly Loss[] | undefined {
  const [cause, more] = named;
  const counted = named.reduce((sum, { count }) => sum + (count ?? 0), 0);
  if (losses === undefined) {
    if (counted > 0) return named;
    return made === 1 && took === undefined ? named : undefined;
  }
  const [loss, other] = losses;
  if (!loss || other || loss.own !== undefined || (loss.cause !== 'unknown' && loss.cause !== cause?.cause))
    return undefined;
  if (!more && cause && cause.count === undefined)
    return [{ ...cause, ...(loss.count === undefined ? {} : { count: loss.count }) }];
  return counted === (loss.count ?? made) ? named : undefined;
}

const lossText = ({ cause, own }: Loss): string =>
  [cause === 'unknown' ? '' : cause, own ? quoted(own) : ''].filter(Boolean).join('  ');

function visit(
  verb: 'take' | 'fail',
  day: Day,
  { all, count }: { all: boolean; count: number },
  behind: string,
  undated: boolean,
): Visit {
  return { verb, day, ...(all ? {} : { count }), ...(behind ? { behind } : {}), ...(undated ? { undated } : {}) };
}
