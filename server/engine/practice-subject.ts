import type { Day, Intervals, Taxon } from '#grammar/statement.ts';
import type { Method } from '#grammar/vocabulary.ts';
import { noCover } from './cover.ts';
import type { Cover, Group, Range } from './model.ts';

export type { Range } from './model.ts';

/**
 * Whom and which day practice is asked for. What nobody noted is absent, and a condition on it doesn't hold. Grafts of
 * the log are one by `subjectOf`; `onDay` gives the same on another day, `asAnother` as if they were of another kind.
 */
export interface Subject {
  /** The day of the work judged; of a rule about work, the day of its event. */
  readonly day: Day;
  /** Key of the batch. */
  readonly batch?: string | undefined;
  readonly numbers?: Intervals | undefined;
  readonly method?: Method | undefined;
  readonly scion?: Taxon | undefined;
  readonly group?: Group | undefined;
  readonly potted?: boolean | undefined;
  /** Method, plant and stem as one word: what is asked of a kind of graft is worked out once a kind. */
  readonly kind?: string | undefined;
  /** Thickness of the scion, mm. */
  readonly thick?: Range | undefined;
  readonly made?: Day | undefined;
  /** The day its wood was cut. */
  readonly collected?: Day | undefined;
  /** °C its wood was kept at. */
  readonly store?: Range | undefined;
  /** Latitude of where it stands that day; absent: the north is assumed. */
  lat?(day: Day): number | undefined;
  /** What the place gives that day. */
  flags?(day: Day): ReadonlySet<Cover>;
  /** The day of an event of its history (`free`, `take`, `dry` ...) on or before a day. */
  event?(name: string, day: Day): Day | undefined;
  /** The same on another day. */
  onDay?(day: Day): Subject;
}

export const onDay = (subject: Subject, day: Day): Subject =>
  subject.day === day ? subject : (subject.onDay?.(day) ?? { ...subject, day });

/** The same grafts, were they of another kind or place, or had something not befallen them. */
export function asAnother(
  subject: Subject,
  other: Partial<Pick<Subject, 'method' | 'group' | 'flags' | 'event'>>,
): Subject {
  const { day, batch, numbers, method, scion, group, potted, thick, made, collected, store } = subject;
  const same: Subject = {
    ...{ day, batch, numbers, method, scion, group, potted, thick, made, collected, store },
    lat: (on) => subject.lat?.(on),
    flags: (on) => subject.flags?.(on) ?? noCover,
    event: (name, on) => subject.event?.(name, on),
    ...other,
  };
  return { ...same, kind: kindOf(same) };
}

export const kindOf = ({
  method,
  group,
  scion,
  potted,
}: Pick<Subject, 'method' | 'group' | 'scion' | 'potted'>): string =>
  `${method ?? ''}|${group ?? ''}|${scion?.text ?? ''}|${potted ?? ''}`;

const attached: ReadonlySet<Method> = new Set<Method>(['chip-bud', 't-bud', 'approach', 'thread']);

/** All scion grafts: no buds, and nothing still fed by its own roots. */
export const isDetached = (method: Method | undefined): boolean => method !== undefined && !attached.has(method);
export const isBud = (method: Method | undefined): boolean => method === 'chip-bud' || method === 't-bud';
