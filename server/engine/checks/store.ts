import type { Day } from '#grammar/statement.ts';
import { greatest } from '#grammar/values/extremes.ts';
import { namedIn } from '../facts.ts';
import type { Lot, LotStay } from '../lots.ts';
import type { Entry, Finding } from '../model.ts';
import type { Limit, Subject } from '../practice.ts';
import { above } from '../practice-match.ts';
import { byLog, bySitting, type CheckEnv, daySpan, factSpan, placedOn } from './case.ts';
import { acceptMends } from './mends.ts';
import { between as daysBetween } from './place-lines.ts';
import { of } from './scion.ts';
import { between, daysText, degrees, monthOf, sentence, withWhy } from './words.ts';

/** Wood kept longer than it lives in store, or dormant wood used when the stock is in growth. */
export const storedLong = bySitting((sitting, env) => {
  const lot = env.lots.ofCohort(sitting.cohort);
  if (lot?.day === undefined || lot.day > sitting.day) return [];
  const days = sitting.day - lot.day;
  const limit = env.practice.limits('stored', sitting.subject).find(({ amount }) => above(days, amount));
  if (!limit) return [];
  const found = placedOn([sitting.fact('lot')]);
  const span = found?.entry === sitting.made ? found.span : daySpan(sitting.made);
  return [
    of(sitting, {
      entry: sitting.made,
      span,
      severity: limit.severity,
      practice: limit.row.entry,
      message: storedText(days, limit, lot.day, sitting.day),
      related: [{ entry: lot.entry, span: daySpan(lot.entry), message: `\`${lot.name}\` was cut here.` }],
    }),
  ];
});

function storedText(days: number, { high = 0, row }: Limit, cut: Day, used: Day): string {
  if (high === 0)
    return withWhy(`Dormant wood of ${monthOf(cut)} used in ${monthOf(used)}: fresh wood is wanted then`, row.source);
  const { at, collected } = row.conditions;
  const when = at ? 'when frozen' : collected ? 'when cut in leaf' : 'when cold and sealed';
  return `Stored ${daysText(days)}: up to ${high} ${when}; older wood is dry before it knits.`;
}

/** Scion wood kept warmer than it sleeps at: by what the place or the line says, or by a second warm reading there. */
export const storedWarm = byLog(() => {
  /** By lot the last day each batch was grafted from it. */
  const used = new Map<string, Map<string, Day>>();
  return {
    put({ batch, cohorts }) {
      for (const cohort of cohorts) {
        const lot = namedIn(cohort.fact('lot')?.fact)?.key;
        if (lot === undefined) continue;
        const days = used.get(lot) ?? new Map<string, Day>();
        used.set(lot, days);
        days.set(batch.key, Math.max(cohort.madeDay, days.get(batch.key) ?? cohort.madeDay));
      }
    },
    drop(batch) {
      for (const days of used.values()) days.delete(batch);
    },
    findings(env) {
      const found: Finding[] = [];
      for (const { key } of env.log.names.allDeclared('lot')) {
        const lot = env.lots.of(key);
        if (lot?.day === undefined || lot.day > env.day) continue;
        const days = [...(used.get(key)?.values() ?? [])];
        found.push(...warmStays(lot, days.length > 0 ? greatest(days) : undefined, env));
      }
      return found;
    },
  };
});

function warmStays(lot: Lot, lastUsed: Day | undefined, env: CheckEnv): Finding[] {
  const found: Finding[] = [];
  lot.stays.forEach((stay, i) => {
    const subject = subjectOfLot(lot, stay.day);
    const [limit] = env.practice.limits('stored-at', subject);
    const till = Math.min(lot.stays[i + 1]?.day ?? env.day, lastUsed ?? keptTill(lot, subject, env));
    // put there and grafted, or moved on, within the day: it was not kept there
    if (!limit || (till <= stay.day && (lastUsed !== undefined || i + 1 < lot.stays.length))) return;
    const warm =
      stay.at && above(stay.at.high, limit.amount)
        ? onLine(lot, stay, limit, env)
        : onReading(lot, stay, till, limit, env);
    if (warm) found.push(warm);
  });
  return found;
}

/** Wood nobody has grafted yet is looked at for as long as it is good. */
function keptTill(lot: Lot, subject: Subject, env: CheckEnv): Day {
  const days = env.practice.limits('stored', {
    ...subject,
    ...(lot.day === undefined ? {} : { collected: lot.day }),
  })[0]?.high;
  return days === undefined ? env.day : Math.min(env.day, (lot.day ?? env.day) + days);
}

function subjectOfLot(lot: Lot, day: Day): Subject {
  const scion = lot.statement.taxa?.scion;
  return { day, ...(scion ? { scion } : {}), ...(lot.group ? { group: lot.group } : {}) };
}

function onLine(lot: Lot, stay: LotStay, limit: Limit, env: CheckEnv): Finding | undefined {
  const span =
    factSpan(stay.entry, 'at') ?? factSpan(stay.entry, 'in') ?? factSpan(stay.entry, 'to') ?? daySpan(stay.entry);
  const place = stay.place === undefined ? undefined : env.log.names.declared(stay.place)?.entry;
  const told = place && !factSpan(stay.entry, 'at') ? factSpan(place, 'at') : undefined;
  return warmFinding(lot, stay, stay.entry, span, between(stay.at ?? { low: 0, high: 0 }, degrees), limit, env, {
    ...(place && told ? { related: [{ entry: place, span: told, message: 'So warm it is there.' }] } : {}),
  });
}

function onReading(lot: Lot, stay: LotStay, till: Day, limit: Limit, env: CheckEnv): Finding | undefined {
  if (stay.place === undefined) return undefined;
  const warm = daysBetween(env.places.readings(stay.place), stay.day, till).filter(
    ({ min }) => min !== undefined && above(min, limit.amount),
  );
  const [first, second] = warm;
  if (!first || !second) return undefined;
  const span = factSpan(second.entry, 'min') ?? daySpan(second.entry);
  return warmFinding(lot, stay, second.entry, span, degrees(second.min ?? 0), limit, env, {
    related: [
      { entry: first.entry, span: factSpan(first.entry, 'min') ?? daySpan(first.entry), message: 'Warm here, too.' },
    ],
  });
}

function warmFinding(
  lot: Lot,
  stay: LotStay,
  entry: Entry,
  span: Finding['span'],
  warm: string,
  limit: Limit,
  env: CheckEnv,
  more: Pick<Finding, 'related'>,
): Finding | undefined {
  const scion = lot.statement.taxa?.scion;
  const about = {
    entry,
    day: entry.day ?? stay.day,
    ...(stay.place === undefined ? {} : { place: stay.place }),
    ...(lot.group ? { group: lot.group } : {}),
    ...(scion ? { scion } : {}),
  };
  if (env.accepts.covers('stored-warm', about)) return undefined;
  return {
    code: 'stored-warm',
    severity: limit.severity,
    practice: limit.row.entry,
    entry,
    span,
    message: sentence(`Wood of \`${lot.name}\` at ${warm}: buds wake; up to ${degrees(limit.high ?? 0)} it sleeps.`),
    ...more,
    get mends() {
      return acceptMends('stored-warm', entry, undefined, env.log);
    },
  };
}
