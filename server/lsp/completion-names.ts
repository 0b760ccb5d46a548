import { CompletionItemKind } from 'vscode-languageserver';
import type { SetRef, Statement } from '#grammar/statement.ts';
import { intersect } from '#grammar/values/intervals.ts';
import type { Key, Verb } from '#grammar/vocabulary.ts';
import { type FittingVerb, graftsFitting, isFitting, livingSets, recordedBy, setText } from '#server/engine/fitting.ts';
import { actedOn } from '#server/engine/mentions.ts';
import type { NameKind, WorkItem } from '#server/engine/model.ts';
import { whenText } from '#server/engine/say.ts';
import { lastNames, type Writing } from '#server/engine/used.ts';
import { shareWritten } from '#server/engine/work/step.ts';
import { type Candidate, nameKinds } from './completion-item.ts';
import type { FileView } from './feature.ts';

/** More than a hand pages through; what is typed narrows them. */
const most = 60;
/** Lines of one batch that are read for its next number; beyond it the line above tells it. */
const linesRead = 200;

/** A blank line, a remark and the day stand between a batch and its first graft. */
const linesAbove = 5;

/** Why grafts that still live are offered last. */
const lessNotes: Partial<Record<FittingVerb, string>> = {
  open: 'not swelling yet',
  free: 'not swelling yet',
  take: 'not free yet',
  untie: 'not taken yet',
  headback: 'not taken yet',
  sell: 'not taken yet',
  retie: 'untied',
};

/** What a verb may act on: the grafts it fits today, due ones first; then places, trees and lots as last named. */
export function targetCandidates(view: FileView, statement: Statement, word: string, writing: Writing): Candidate[] {
  const { verb } = statement;
  const prefix = word.normalize('NFC').toLowerCase();
  const kinds = actedOn(verb);
  const found = new Map<string, Candidate>();
  const add = (candidate: Candidate) => {
    const key = candidate.label.toLowerCase();
    if (key.startsWith(prefix) && !found.has(key)) found.set(key, candidate);
  };
  if (verb === 'graft') for (const candidate of nextGrafts(view, prefix, writing)) add(candidate);
  else if (kinds.includes('batch')) {
    const { fitting } = view.root.answers;
    if (isFitting(verb)) for (const candidate of fittingCandidates(view, verb, prefix)) add(candidate);
    if (!isFitting(verb) || !fitting.complete)
      for (const candidate of nameCandidates(view, ['batch'], prefix, writing)) add(candidate);
  }
  const others = kinds.filter((kind) => kind !== 'batch');
  for (const candidate of nameCandidates(view, others, prefix, writing)) add(candidate);
  return [...found.values()].slice(0, most);
}

function* fittingCandidates({ root }: FileView, verb: FittingVerb, prefix: string): Generator<Candidate> {
  const { fitting } = root.answers;
  const dot = prefix.indexOf('.');
  const one = dot < 0 ? undefined : fitting.get(prefix.slice(0, dot));
  const batches = dot < 0 ? fitting.of(verb) : one ? [one] : [];
  let shown = 0;
  for (const { batch: key, history, work } of batches) {
    if (dot < 0 && !key.startsWith(prefix)) continue;
    if (++shown > most) return;
    const graft = (label: string | undefined, note?: string): Candidate[] =>
      label === undefined
        ? []
        : [{ label, kind: nameKinds.batch, about: { of: 'name', word: key }, ...(note ? { note } : {}) }];
    for (const item of work)
      if (recordedBy(item) === verb && isDue(item))
        yield* graft(setText(history, item.numbers), whenText(item, root.day));
    yield* graft(graftsFitting(history, verb, 'well'));
    yield* graft(graftsFitting(history, verb, 'less'), lessNotes[verb]);
    if (dot >= 0) for (const set of livingSets(history)) yield* graft(set);
  }
}

const isDue = ({ state }: WorkItem) => state === 'due' || state === 'overdue';

/** The next number of the batches grafted last, then batches of which nothing is made yet. */
function* nextGrafts(view: FileView, prefix: string, writing: Writing): Generator<Candidate> {
  const { log } = view.root;
  const of = prefix.split('.')[0] ?? '';
  const keys = new Set([
    ...batchAbove(view, writing),
    ...lastNames(log, ['batch'], writing),
    ...lastNames(log, ['batch'], { ...writing, verb: 'batch' }),
  ]);
  for (const declared of log.names.startingWith(of, ['batch'])) {
    if (keys.size >= most * 2) break;
    keys.add(declared.key);
  }
  for (const key of keys) {
    if (!key.startsWith(of)) continue;
    const number = nextNumber(view, key);
    const { name } = log.names.declared(key) ?? { name: key };
    const about = { of: 'name', word: key } as const;
    const kind = nameKinds.batch;
    if (number === undefined) yield { label: name, kind, about };
    else yield { label: `${name}.${number}`, kind, about, note: number === 1 ? 'the first' : 'the next' };
  }
}

/** A batch that the line above declares is the one that is grafted now. */
function batchAbove({ document }: FileView, { entry }: Writing): string[] {
  const from = entry ? document.lineOf(entry) : 0;
  for (let line = from - 1; line >= 0 && line >= from - linesAbove; line--) {
    const { statement } = document.entries[line]?.line ?? {};
    if (statement) return statement.verb === 'batch' ? statement.sets.slice(0, 1).map(({ name }) => name.key) : [];
  }
  return [];
}

/** The number after the last one made; none where a batch is counted, or too long to be read for it. */
export function nextNumber({ root }: FileView, batch: string): number | undefined {
  if (root.log.names.mentions(batch).length > linesRead) return undefined;
  const { cohorts, batch: read } = root.answers.histories.of(batch);
  if (read.counted) return undefined;
  return cohorts.reduce((last, { numbers }) => Math.max(last, numbers.at(-1) ?? 0), 0) + 1;
}

/** Things of some kinds: those that lines like this named last, then by the alphabet. */
export function nameCandidates(
  { root }: FileView,
  kinds: readonly NameKind[],
  word: string,
  writing: Writing,
  key?: Key,
): Candidate[] {
  if (kinds.length === 0) return [];
  const { names } = root.log;
  const prefix = word.normalize('NFC').toLowerCase();
  const keys = new Set(lastNames(root.log, kinds, writing, key).filter((name) => name.startsWith(prefix)));
  for (const declared of names.startingWith(prefix, kinds)) {
    if (keys.size >= most) break;
    keys.add(declared.key);
  }
  return [...keys].flatMap((name) => {
    const declared = names.declared(name);
    return declared ? [named(declared.kind, declared.key, declared.name)] : [];
  });
}

const named = (kind: NameKind, key: string, label: string): Candidate => ({
  label,
  kind: nameKinds[kind],
  about: { of: 'name', word: key },
});

/** Behind `except`: grafts of the set, each with a history of its own. */
export function exceptCandidates({ root }: FileView, set: SetRef, verb: Verb): Candidate[] {
  const history = root.answers.fitting.get(set.name.key)?.history;
  if (!history) return [];
  const less = isFitting(verb) ? graftsFitting(history, verb, 'less') : undefined;
  const labels = new Set([...(less ? [less] : []), ...livingSets(history)]);
  return [...labels]
    .filter((label) => label.includes('.'))
    .map((label) => ({ label, kind: nameKinds.batch, about: { of: 'name', word: set.name.key } }));
}

/** How far it is now: both ends of the step that is next, else the thirds that are still to come. */
export function shareCandidates({ root }: FileView, { verb, sets }: Statement): Candidate[] {
  if (verb !== 'open' && verb !== 'headback' && verb !== 'sever') return [];
  const found = new Map<string, Candidate>();
  const add = (share: number, note?: string) => {
    const label = shareWritten(share);
    if (!found.has(label)) found.set(label, { label, kind: CompletionItemKind.Value, ...(note ? { note } : {}) });
  };
  for (const { name, numbers } of sets) {
    const fit = root.answers.fitting.get(name.key);
    if (!fit) continue;
    const { history, work } = fit;
    for (const item of work) {
      if (!item.to || recordedBy(item) !== verb) continue;
      if (numbers && intersect(item.numbers, numbers).length === 0) continue;
      add(item.to.low, whenText(item, root.day));
      add(item.to.high, whenText(item, root.day));
    }
    if (found.size > 0 || verb === 'open') continue;
    const now = Math.max(
      0,
      ...history.cohorts.map((cohort) => (verb === 'headback' ? cohort.headback : cohort.severed)),
    );
    for (const share of [1 / 3, 2 / 3, 1]) if (share > now + 0.01) add(share);
  }
  return [...found.values()];
}
