import type { Amount, Day, Fact, Scope, Statement, Value, YearDay, YearPart } from '#grammar/statement.ts';
import type { Key } from '#grammar/vocabulary.ts';
import type { Cover, Entry } from './model.ts';

/** From wide to close; the closest line wins. */
const closeness = ['any', 'detached', 'method', 'group', 'genus', 'species', 'cultivar', 'batch', 'graft'] as const;
type Closeness = (typeof closeness)[number];

/** How long after an event: days on (`low..high`), or days of the year, of which the first after the event is meant. */
export type Wait = Amount | Extract<Value, { kind: 'dates' }>;

export interface RowConditions {
  /** mm. */
  readonly size?: Amount;
  readonly made?: readonly YearPart[];
  readonly collected?: readonly YearPart[];
  /** Days since grafting, at the event. */
  readonly age?: Amount;
  /** °C of the store. */
  readonly at?: Amount;
  /** Degrees, north or south. */
  readonly lat?: Amount;
  readonly potted?: true;
  readonly flags?: readonly Cover[];
  /** On a limit: from so long after the event on. */
  readonly since?: { readonly events: readonly string[]; readonly wait: Wait };
}

/** One rule of one line: a line with several keys, works or events is as many rows. */
export interface PracticeRow {
  /** What is one key: `cut`, `work:look:word`, `earliest:untie:growth`, `silent:mould`, `needs:shade`, `task:open`. */
  readonly id: string;
  readonly key: Key;
  /** Of `work` and `earliest`: which work; of `needs` and `task`: their word. */
  readonly word?: string;
  /** Of `work`, `earliest`, `silent` and `stands`: the event it counts from. */
  readonly event?: string;
  /** `none` takes the rule away. */
  readonly value: Value;
  readonly entry: Entry;
  readonly fact: Fact;
  readonly shipped: boolean;
  /** Counts over both files, the shipped one being read first. */
  readonly order: number;
  /** All must hold; inside one a list is "or". */
  readonly scopes: readonly Scope[];
  readonly conditions: RowConditions;
  /** `closeness` of the narrowest scope. */
  readonly rank: number;
  /** Kinds of scopes and conditions, for lines equally close. */
  readonly extent: number;
  /** Absent where the line says none: then that of the shipped line it stands over. */
  readonly severity?: 'warning' | 'information';
  /** A date typed on the line: it holds for work on or after that day. */
  readonly since?: Day;
  readonly source?: string;
  readonly wait?: Wait;
  readonly till?: YearDay;
  readonly within?: readonly YearPart[];
  /** 0..1 */
  readonly certain?: number;
  readonly urgent: boolean;
  /** Its rule speaks of the seasons: silent in the tropics. */
  readonly seasonal: boolean;
}

const placeFlags: readonly Cover[] = ['frost-free', 'shade', 'wind-break', 'humid', 'heated', 'mist'];
const byEvent: ReadonlySet<Key> = new Set<Key>(['work', 'earliest', 'silent', 'stands']);
const beside: ReadonlySet<Key> = new Set<Key>([
  ...['size', 'made', 'collected', 'age', 'at', 'lat', 'potted', 'after', 'wait', 'till', 'within', 'certain'],
  ...['urgent', 'source', 'warning', 'information', 'accept', 'photo', 'by', ...placeFlags],
] as Key[]);

/** The rows of one `practice` line; what could not be read makes none. */
export function rowsOf(entry: Entry, shipped: boolean, order: number): PracticeRow[] {
  const statement = entry.line.statement;
  if (statement?.verb !== 'practice' || statement.idle) return [];
  const scopes = statement.scopes ?? [];
  const rules = statement.facts.filter((fact) => !beside.has(fact.key));
  // a fact that can't be read could be a condition: the line would hold for more than its writer meant
  if (scopes.length === 0 || rules.length === 0 || statement.facts.some((fact) => fact.lost)) return [];
  const first = rules[0]?.key;
  const working = rules.find((fact) => fact.key === 'work' || fact.key === 'earliest');
  if (working && (rules.length > 1 || !fact(statement, 'after') || !fact(statement, 'wait'))) return [];
  const events = words(fact(statement, 'after'));
  const perEvent = first !== undefined && byEvent.has(first);
  const conditions = conditionsOf(statement, perEvent);
  const rank = Math.max(...scopes.map((scope) => closeness.indexOf(closenessOf(scope))));
  const within = yearParts(fact(statement, 'within'));
  const wait = waitOf(fact(statement, 'wait'));
  const till = yearDay(fact(statement, 'till'));
  const certain = amount(fact(statement, 'certain'))?.low;
  const source = fact(statement, 'source');
  const severity = (['warning', 'information'] as const).find((word) => fact(statement, word));
  const common = {
    entry,
    shipped,
    scopes,
    conditions,
    rank,
    extent: new Set(scopes.map((scope) => scope.kind)).size + conditionCount(conditions),
    urgent: fact(statement, 'urgent') !== undefined,
    ...(severity ? { severity } : {}),
    ...(entry.line.date ? { since: entry.line.date.day } : {}),
    ...(source?.value.kind === 'text' ? { source: source.value.text } : {}),
    ...(within ? { within } : {}),
    ...(till ? { till } : {}),
    ...(certain !== undefined ? { certain } : {}),
    ...(perEvent && wait ? { wait } : {}),
  } as const;
  const rows: PracticeRow[] = [];
  for (const rule of rules) {
    const value: Value = working && fact(statement, 'wait')?.value.kind === 'none' ? { kind: 'none' } : rule.value;
    const wordList = wordsOfRule(rule);
    const eventList = byEvent.has(rule.key) && events.length > 0 ? events : [undefined];
    for (const word of wordList)
      for (const event of eventList)
        rows.push({
          ...common,
          id: [rule.key === 'long-ratio' ? 'long' : rule.key, word, event].filter((part) => part).join(':'),
          key: rule.key,
          value: rule.key === 'needs' && denied(rule) ? { kind: 'none' } : value,
          fact: rule,
          order: order + rows.length / 100,
          seasonal: isSeasonal(rule, common.wait, within, till, event),
          ...(word ? { word } : {}),
          ...(event ? { event } : {}),
        });
  }
  return rows;
}

/** A list is as many lines; `needs none` is all four. */
function wordsOfRule(rule: Fact): readonly (string | undefined)[] {
  if (rule.key === 'needs') {
    const list = words(rule).filter((word) => word !== 'none');
    return list.length > 0 ? list : ['frost-free', 'shade', 'wind-break', 'humid'];
  }
  if (rule.key === 'work' || rule.key === 'earliest') return words(rule);
  if (rule.key === 'task') return [rule.value.kind === 'task' ? rule.value.work : undefined];
  return [undefined];
}

const denied = (rule: Fact) => rule.value.kind === 'none' || words(rule).includes('none');

function closenessOf(scope: Scope): Closeness {
  switch (scope.kind) {
    case 'plant':
      return scope.taxon.cultivar ? 'cultivar' : scope.taxon.epithet ? 'species' : 'genus';
    case 'set':
      return scope.set.numbers ? 'graft' : 'batch';
    default:
      return scope.kind;
  }
}

function conditionsOf(statement: Statement, perEvent: boolean): RowConditions {
  const flags = placeFlags.filter((flag) => fact(statement, flag));
  const size = amount(fact(statement, 'size'));
  const age = amount(fact(statement, 'age'));
  const at = amount(fact(statement, 'at'));
  const lat = amount(fact(statement, 'lat'));
  const made = yearParts(fact(statement, 'made'));
  const collected = yearParts(fact(statement, 'collected'));
  const events = words(fact(statement, 'after'));
  const wait = waitOf(fact(statement, 'wait'));
  return {
    ...(size ? { size } : {}),
    ...(age ? { age } : {}),
    ...(at ? { at } : {}),
    ...(lat ? { lat } : {}),
    ...(made ? { made } : {}),
    ...(collected ? { collected } : {}),
    ...(fact(statement, 'potted') ? { potted: true as const } : {}),
    ...(flags.length > 0 ? { flags } : {}),
    ...(!perEvent && events.length > 0 ? { since: { events, wait: wait ?? onThatDay } } : {}),
  };
}

const onThatDay: Amount = { kind: 'amount', measure: 'duration', low: 0 };

const conditionCount = (conditions: RowConditions) =>
  Object.keys(conditions).length + (conditions.flags ? conditions.flags.length - 1 : 0);

function isSeasonal(
  rule: Fact,
  wait: Wait | undefined,
  within: readonly YearPart[] | undefined,
  till: YearDay | undefined,
  event: string | undefined,
): boolean {
  if (rule.key === 'growth' || rule.key === 'last-frost' || rule.key === 'first-frost') return false;
  return (
    rule.value.kind === 'year' ||
    wait?.kind === 'dates' ||
    within !== undefined ||
    till !== undefined ||
    event === 'growth'
  );
}

const fact = (statement: Statement, key: Key) => statement.facts.find((found) => found.key === key);
const amount = (found: Fact | undefined) => (found?.value.kind === 'amount' ? found.value : undefined);
const yearParts = (found: Fact | undefined) => (found?.value.kind === 'year' ? found.value.parts : undefined);
const yearDay = (found: Fact | undefined) => (found?.value.kind === 'dates' ? found.value.from : undefined);
const words = (found: Fact | undefined): readonly string[] => (found?.value.kind === 'words' ? found.value.words : []);

function waitOf(found: Fact | undefined): Wait | undefined {
  return found?.value.kind === 'amount' || found?.value.kind === 'dates' ? found.value : undefined;
}
