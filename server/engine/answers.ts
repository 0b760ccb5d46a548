import type { Day } from '#grammar/statement.ts';
import type { AcrossCheck, CheckEnv } from './checks/case.ts';
import { checkEnv } from './checks/env.ts';
import { acrossChecks, checkBatch } from './checks/index.ts';
import { placeLinesOf } from './checks/place-lines.ts';
import { withDayMends, withYearMend } from './day-mends.ts';
import { stillToCome } from './engine.ts';
import { batchFigures } from './figures/batch.ts';
import { earliestTake } from './figures/early.ts';
import { KeptPieces } from './figures/kept-pieces.ts';
import type { Piece } from './figures/pieces.ts';
import { Fitting } from './fitting.ts';
import { Histories } from './histories.ts';
import type { Log, LogChange } from './log.ts';
import { lotsOf } from './lots.ts';
import { merge } from './merge.ts';
import type { BatchFigures, BatchHistory, Entry, Finding, WorkItem } from './model.ts';
import type { WeatherTexts } from './station-lines.ts';
import { pairOf } from './swellings.ts';
import { LogWeather } from './weather-of.ts';
import { nextWork } from './work/next.ts';
import { overdueFindings } from './work/overdue.ts';

export interface BatchAnswer {
  readonly history: BatchHistory;
  readonly findings: readonly Finding[];
  readonly work: readonly WorkItem[];
  readonly figures: BatchFigures;
}

/** So many lines of batches that an edit reached are read again for one that is about to be typed; more wait for a rest. */
const fewLines = 200;

/**
 * All that follows from a log on a day: findings, work and figures, batch by batch, kept until an edit reaches the
 * batch. What spans batches (a place that is full, a frost night) is found anew when it is asked for after an edit.
 */
export class Answers {
  readonly log: Log;
  readonly day: Day;
  readonly histories: Histories;
  readonly #texts: WeatherTexts | undefined;
  #weather: LogWeather | undefined;
  #env: CheckEnv;
  /** Lots and lines on places are to be looked up anew: by the next question, not by each key. */
  #envStale = false;
  readonly #known = new Map<string, BatchAnswer>();
  /** Findings of batches, by the file and line they stand on and the batch they are of. */
  readonly #byFile = new Map<string, Map<Entry, Map<string, Finding[]>>>();
  /** What spans batches, and those that are part of it. */
  #across: readonly AcrossCheck[] = [];
  readonly #put = new Set<string>();
  #places: ReadonlySet<string> = new Set();
  #acrossFound: readonly Finding[] | undefined;
  #acrossBefore: readonly Finding[] = [];
  /** Files whose findings may have changed since they were last asked for. */
  readonly #filesChanged: Set<string>;
  readonly #fitting = new Fitting();
  /** Batches an edit reached since they were answered. */
  readonly #changed = new Set<string>();
  readonly #pieces = new KeptPieces();

  /** @param texts gives the files that `weather` lines name; without it these lines are read and no more */
  constructor(log: Log, day: Day, texts?: WeatherTexts) {
    this.log = log;
    this.day = day;
    this.histories = new Histories(log, day);
    this.#texts = texts;
    this.#filesChanged = new Set(log.fileNames);
    this.#weather = this.#readWeather();
    this.#env = this.#readEnv();
    this.#startAcross();
  }

  #startAcross(): void {
    this.#across = acrossChecks(this.env);
    this.#acrossFound = undefined;
    this.#put.clear();
    this.#places = new Set([...this.log.names.allDeclared('place')].map(({ key }) => key));
  }

  /** It is one, or was. */
  #isPlace(name: string): boolean {
    return this.#places.has(name) || this.log.names.declared(name)?.kind === 'place';
  }

  #readEnv(): CheckEnv {
    return checkEnv(this.log, this.day, this.#weather);
  }

  #readWeather(): LogWeather | undefined {
    const lines = this.log.all('weather').length;
    return this.#texts && lines > 0 ? new LogWeather(this.histories, this.#texts) : undefined;
  }

  /** The files that `weather` lines name were read, or read anew. */
  weatherRead(): void {
    this.#weather = this.#readWeather();
    this.#env = this.#readEnv();
    for (const batch of [...this.#known.keys()]) this.#forget(batch);
    this.#pieces.clear();
    for (const file of this.log.fileNames) this.#filesChanged.add(file);
    this.#startAcross();
  }

  get env(): CheckEnv {
    if (this.#envStale)
      this.#env = { ...this.#env, lots: lotsOf(this.log, this.day), places: placeLinesOf(this.log, this.day) };
    this.#envStale = false;
    return this.#env;
  }

  /** Absent where no line names a station. */
  get weather(): LogWeather | undefined {
    return this.#weather;
  }

  of(batch: string): BatchAnswer {
    const known = this.#known.get(batch);
    if (known) return known;
    const history = this.histories.of(batch);
    const { env } = this;
    const work = nextWork(history, env);
    const checked = checkBatch(history, env);
    const findings = [...history.findings, ...checked, ...overdueFindings(work, history, env)];
    const answer = { history, findings, work, figures: batchFigures(history, (cohort) => earliestTake(cohort, env)) };
    // a name that only stands on lines, asked about by a hover: its lines have said already that there is no such batch
    if (!this.log.names.isBatch(batch)) return answer;
    this.#known.set(batch, answer);
    this.#changed.delete(batch);
    this.#fitting.put(batch, history, work);
    for (const finding of findings) {
      this.#filesChanged.add(finding.entry.file);
      const sources = under(under(this.#byFile, finding.entry.file), finding.entry);
      const list = sources.get(batch);
      if (list) list.push(finding);
      else sources.set(batch, [finding]);
    }
    return answer;
  }

  /** Throws away what a change reaches; returns the batches that have to be looked at again. */
  apply(change: LogChange): ReadonlySet<string> {
    let dirty = this.histories.apply(change);
    for (const { entry } of this.#ofWeather()) this.#filesChanged.add(entry.file);
    if (change.wide.has('weather') || change.wide.has('site')) this.#weather = this.#readWeather();
    else dirty = this.#weatherReaches(change, dirty);
    if (change.wide.size > 0) {
      dirty = new Set([...this.#known.keys(), ...dirty]);
      this.#env = this.#readEnv();
      this.#pieces.clear();
    } else {
      this.#envStale = true;
    }
    for (const { entry } of this.#ofWeather()) this.#filesChanged.add(entry.file);
    for (const batch of dirty) this.#forget(batch);
    for (const file of change.wide.size > 0 ? this.log.fileNames : change.files) this.#filesChanged.add(file);
    if (change.wide.size > 0 || [...change.renamed].some((name) => this.#isPlace(name))) this.#startAcross();
    this.#acrossFound = undefined;
    this.#pieces.forget(dirty);
    return dirty;
  }

  /** A reading may tell how much warmer its place is, a swelling when a pair's buds move: both are felt in other batches. */
  #weatherReaches(change: LogChange, dirty: ReadonlySet<string>): ReadonlySet<string> {
    const reached = this.#weather?.apply(change, dirty);
    if (!reached || reached.places.size + reached.pairs.size === 0) return dirty;
    const others = [...this.#known].filter(([, { history }]) =>
      history.cohorts.some(
        (cohort) =>
          reached.pairs.has(pairOf(cohort) ?? '') ||
          cohort.stays.some(({ place }) => place !== undefined && reached.places.has(place)),
      ),
    );
    return new Set([...dirty, ...others.map(([batch]) => batch)]);
  }

  /** Which batches each verb fits: as they stand by now, or of many and of large ones as they stood when last asked for. */
  get fitting(): Fitting {
    let lines = 0;
    for (const batch of this.#changed) lines += this.log.names.mentions(batch).length;
    if (lines <= fewLines) for (const batch of this.#changed) this.of(batch);
    return this.#fitting;
  }

  #forget(batch: string): void {
    if (this.#put.delete(batch)) for (const check of this.#across) check.drop(batch);
    const known = this.#known.get(batch);
    if (this.log.names.isBatch(batch)) this.#changed.add(batch);
    else {
      this.#changed.delete(batch);
      this.#fitting.remove(batch);
    }
    if (!known) return;
    this.#known.delete(batch);
    for (const { entry } of known.findings) {
      this.#filesChanged.add(entry.file);
      const lines = this.#byFile.get(entry.file);
      const sources = lines?.get(entry);
      sources?.delete(batch);
      if (sources?.size === 0) lines?.delete(entry);
    }
  }

  /** Every batch answered; the ones an edit didn't reach cost nothing. */
  *all(): Generator<BatchAnswer> {
    for (const batch of this.log.names.batches()) yield this.of(batch);
    this.#fitting.complete = true;
  }

  /** What befell every batch: all that figures over several batches are made from. */
  record(): BatchHistory[] {
    return [...this.log.names.batches()].map((batch) => this.histories.of(batch));
  }

  /** The same cut into what can be counted together. */
  pieces(): readonly Piece[] {
    return this.#pieces.of(() => this.record(), this.env);
  }

  /** All findings, one a line and code, by file and line. */
  findings(): Finding[] {
    const own = [...this.all()].flatMap((answer) => answer.findings);
    const lines = this.log.fileNames.flatMap((file) => [...this.#ofLines(file)]);
    return merge([...lines, ...this.#toCome(), ...this.#ofWeather(), ...own, ...this.across()]);
  }

  /** Those of one file. */
  findingsIn(file: string): Finding[] {
    const across = this.across();
    const own: Finding[] = [];
    for (const sources of this.#byFile.get(file)?.values() ?? [])
      for (const list of sources.values()) for (const one of list) own.push(one);
    const rest = [...this.#toCome(), ...this.#ofWeather(), ...across].filter(({ entry }) => entry.file === file);
    return merge([...this.#ofLines(file), ...rest, ...own]);
  }

  /** Brings all up to date, batch by batch, so that others can be heard in between. An edit meanwhile is no harm. */
  *settling(): Generator<void> {
    if (this.#acrossFound) return;
    for (const { history } of this.all()) {
      const { key } = history.batch;
      if (!this.#put.has(key)) {
        this.#put.add(key);
        for (const check of this.#across) check.put(history, this.env);
      }
      yield;
    }
  }

  /** What spans batches. */
  across(): readonly Finding[] {
    if (this.#acrossFound) return this.#acrossFound;
    for (const _ of this.settling());
    const found = this.#across.flatMap((check) => check.findings(this.env));
    for (const { entry } of [...this.#acrossBefore, ...found]) this.#filesChanged.add(entry.file);
    this.#acrossBefore = found;
    this.#acrossFound = found;
    return found;
  }

  *#ofLines(file: string): Generator<Finding> {
    for (const finding of this.log.lineFindingsIn(file)) yield withDayMends(finding, this.log, this.day);
  }

  /** Brings all up to date; gives the files whose findings may be others than when this was last asked. */
  changedFiles(): ReadonlySet<string> {
    this.across();
    const changed = new Set(this.#filesChanged);
    this.#filesChanged.clear();
    return changed;
  }

  #ofWeather(): readonly Finding[] {
    return this.#weather?.findings ?? [];
  }

  *#toCome(): Generator<Finding> {
    for (const entry of this.log.after(this.day)) yield withYearMend(stillToCome(entry), this.log, this.day);
  }

  work(): WorkItem[] {
    return [...this.all()].flatMap((answer) => answer.work).sort(byDate);
  }
}

function under<K, L, T>(maps: Map<K, Map<L, T>>, key: K): Map<L, T> {
  let map = maps.get(key);
  if (!map) {
    map = new Map();
    maps.set(key, map);
  }
  return map;
}

const byDate = (a: WorkItem, b: WorkItem) =>
  a.by - b.by ||
  a.from - b.from ||
  a.batch.name.localeCompare(b.batch.name, 'en', { numeric: true }) ||
  a.what.localeCompare(b.what);
