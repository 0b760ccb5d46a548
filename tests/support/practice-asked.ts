import { readLine } from '#grammar/line.ts';
import { parseIso } from '#grammar/values/date.ts';
import type { Cover, Entry, Group } from '#server/engine/model.ts';
import { type Limit, type LimitKey, practiceOf, type Subject } from '#server/engine/practice.ts';

/** Lines of one log, or of several files: `file: line`. */
export const linesOf = (text: string): Entry[] =>
  text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line, rank) => {
      const [, file = 'log.graft', rest = ''] = /^(?:(\w+\.graft): )?(.*)$/.exec(line.trim()) ?? [];
      return { line: readLine(rest), file, rank, minute: 0 };
    });

const day = (iso: string) => parseIso(iso) ?? 0;

export interface Who
  extends Partial<Omit<Subject, 'scion' | 'flags' | 'lat' | 'day' | 'made' | 'collected' | 'thick'>> {
  readonly plant?: string;
  readonly on?: string;
  readonly made?: string;
  readonly collected?: string;
  readonly thick?: number | readonly [number, number];
  readonly flags?: readonly Cover[];
  readonly lat?: number;
  readonly events?: Readonly<Record<string, string>>;
}

/** Somebody to ask practice for: a pine on a branch unless said otherwise. */
export function who({
  plant = 'Pinus sylvestris',
  on = '2027-03-15',
  made,
  collected,
  thick,
  flags,
  lat,
  events,
  ...rest
}: Who = {}): Subject {
  const statement = readLine(`batch X  ${plant}`).statement;
  const scion = statement?.taxa?.scion;
  const [low, high] = typeof thick === 'number' ? [thick, thick] : (thick ?? []);
  return {
    method: 'side',
    group: 'needle' as Group,
    potted: false,
    ...rest,
    day: day(on),
    made: day(made ?? on),
    ...(scion ? { scion } : {}),
    ...(collected ? { collected: day(collected) } : {}),
    ...(low !== undefined && high !== undefined ? { thick: { low, high } } : {}),
    lat: () => lat,
    flags: () => new Set(flags ?? []),
    event: (name) => (events?.[name] === undefined ? undefined : day(events[name])),
  };
}

export const said = ({ low, high, severity }: Limit) => `${low ?? ''}..${high ?? ''} ${severity}`;
export const limits = (key: LimitKey, own: string, subject: Who = {}) =>
  practiceOf(linesOf(own)).limits(key, who(subject)).map(said);
export const off = (own: string, subject: Who) =>
  practiceOf(linesOf(own))
    .off(who(subject))
    .map(({ row, severity }) => `${row.entry.line.text.slice(row.fact.span.start, row.fact.span.end)} ${severity}`);
