import type { Code } from '#grammar/codes.ts';
import type { Severity } from '#grammar/finding.ts';
import type { Day } from '#grammar/statement.ts';
import type { Wish } from '../batch.ts';
import type { Draw } from '../draw.ts';
import { type Batch, dropFact, type Fact, fact, factOf, type Line, type Season, setFact } from '../model.ts';

/** Where a slip is made: a whole healthy season, and the batch that was wished for in it. */
export interface Site {
  readonly draw: Draw;
  readonly season: Season;
  readonly batch: Batch;
}

/** A slip made: the one line that must be told about, and how severely where that is less than the code's most. */
export interface Slip {
  readonly line: Line;
  /** The day the season is looked at. */
  readonly today: Day;
  readonly severity?: Severity;
}

/** One way to slip. Undefined where this season leaves no room for it. */
export interface Planter {
  readonly wish?: Wish;
  readonly plant: (site: Site) => Slip | undefined;
}

export type Planters = Partial<Record<Code, readonly Planter[]>>;

/** A new line of work on the batch, or on any name. */
export function insert(
  { season, batch }: Site,
  verb: string,
  day: Day,
  facts: readonly string[] = [],
  target: Line['target'] = batch.counted ? batch.name : { batch },
): Line {
  const line: Line = { verb, day, target, facts: facts.map((text) => fact(text, text)), batch };
  season.lines.push(line);
  return line;
}

/** A new declaration, or any line that stands as it is written. */
export function declare({ season }: Site, verb: string, target: string, facts: readonly string[] = []): Line {
  const line: Line = { verb, target, facts: facts.map((text) => fact(text, text)) };
  season.lines.push(line);
  return line;
}

/** A day on which all grafts of the batch stand and nothing is judged yet. */
export const between = ({ draw, batch }: Site): Day => draw.int(batch.last + 1, (batch.take ?? batch.last + 10) - 1);

/** Any day from one on that the season reaches. */
export function someDay({ draw, season }: Site, from: Day): Day {
  const end = Math.max(...season.lines.filter((line) => !line.ahead).map((line) => line.day ?? 0));
  return draw.int(from, Math.max(from, end));
}

/** Later lines of the batch are never written. */
export function forget({ season, batch }: Site, after: Day): void {
  season.lines = season.lines.filter((line) => line.batch !== batch || (line.day ?? 0) <= after);
}

/** The line that names the batch, or a tree it stands on, last on a day or before. */
export function lastNamed({ season, batch }: Site, day: Day): Line | undefined {
  return season.lines
    .filter((line) => line.batch === batch && line.day !== undefined && line.day <= day && isOf(line, batch))
    .sort((a, b) => (a.day ?? 0) - (b.day ?? 0))
    .at(-1);
}
const isOf = ({ target }: Line, batch: Batch): boolean =>
  typeof target === 'string'
    ? target === batch.name || batch.grafts.some((graft) => factOf(graft, 'onto') === `onto ${target}`)
    : target.batch === batch;

/** Grafts that take facts of the batch over: its own, and those of a batch that is like it. */
const heirs = ({ season, batch }: Site): readonly Line[] =>
  season.batches
    .filter((one) => one === batch || factOf(one.declaration, 'like') === `like ${batch.name}`)
    .flatMap(({ grafts }) => grafts);

/** Leaves of the bench facts only what no other fact hangs on, and a cut as a share. */
export function plain(site: Site): void {
  const { batch } = site;
  for (const line of [batch.declaration, ...heirs(site)]) {
    dropFact(line, 'long', 'short', 'scion', 'stock', 'match', 'whorls', 'wood', 'unpruned');
    if (factOf(line, 'cut')?.endsWith('mm')) setFact(line, 'cut', batch.method === 'chip-bud' ? 'cut 1/3' : 'cut 40%');
  }
}

/** Writes facts on one of the graft lines, or on the batch, and returns that line. */
export function written(site: Site, facts: readonly Fact[]): Line {
  const { draw, batch } = site;
  plain(site);
  const line = draw.pick([batch.declaration, ...batch.grafts]);
  if (line === batch.declaration) for (const graft of heirs(site)) dropFact(graft, ...facts.map(({ key }) => key));
  for (const { key, text } of facts) setFact(line, key, text);
  return line;
}

/** Words that stand alone, with the key they are kept under. */
const keys: Readonly<Record<string, string>> = { top: 'side', soft: 'wood', old: 'wood' };
const keyOf = (text: string): string => keys[text] ?? text.split(' ')[0] ?? '';

/** A fact of the bench that is off, on whichever line it was written; told from the day it was made. */
export function benchSlip(site: Site, texts: readonly string[], severity?: Severity): Slip {
  const line = written(
    site,
    texts.map((text) => fact(keyOf(text), text)),
  );
  const from = line.day ?? site.batch.last;
  return { line, today: someDay(site, from), ...(severity ? { severity } : {}) };
}
