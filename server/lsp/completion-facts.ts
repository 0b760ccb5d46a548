import { CompletionItemKind } from 'vscode-languageserver';
import { factOffers, type Offer, valueOffers, verbOffers } from '#grammar/completion-data.ts';
import { readLine } from '#grammar/line.ts';
import type { Slot } from '#grammar/slot.ts';
import type { Statement } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { type Key, keyRow, verbRow } from '#grammar/vocabulary.ts';
import { actedOn } from '#server/engine/mentions.ts';
import { lastPlants, lastStocks, lastValues, ruleValues, usual, type Writing } from '#server/engine/used.ts';
import type { Candidate } from './completion-item.ts';
import { nameCandidates, nextNumber, shareCandidates } from './completion-names.ts';
import { entryAt, type FileView } from './feature.ts';

const itemKinds = {
  verb: CompletionItemKind.Keyword,
  fact: CompletionItemKind.Property,
  flag: CompletionItemKind.EnumMember,
  choice: CompletionItemKind.EnumMember,
} as const;

/** At a line's start: today, where the line stands under another day; the next graft; the verbs. */
export function verbCandidates(view: FileView, line: number, from: number, word: string): Candidate[] {
  const { root } = view;
  const entry = entryAt(view, { line, character: 0 });
  const alone = entry?.line.text.trim() === word;
  const today: Candidate[] =
    alone && from === 0 && entry?.day !== root.day
      ? [{ label: isoDay(root.day), kind: CompletionItemKind.Event, note: 'today' }]
      : [];
  if (/^\d/.test(word)) return today;
  const verbs = verbOffers().map(
    ({ label, kind }): Candidate => ({ label, kind: itemKinds[kind], about: { of: 'verb', word: label } }),
  );
  return [...nextGraft(view, line), ...(word === '' ? today : []), ...verbs];
}

/** On the line below `graft K26.12` the next one, with the facts of the last. */
export function nextGraft(view: FileView, line: number): Candidate[] {
  const above = view.document.entries[line - 1]?.line;
  if (/\S/.test(view.document.entries[line]?.line.text.replace(/^\s*(?:\d{4}-\d{2}-\d{2}\s+)?\p{L}*/u, '') ?? ''))
    return [];
  const statement = above?.statement?.verb === 'graft' ? above.statement : undefined;
  const set = statement?.sets[0];
  if (!above || !statement || !set?.numbers) return [];
  const next = Math.max(nextNumber(view, set.name.key) ?? 0, (set.numbers.at(-1) ?? 0) + 1);
  const label = `graft ${set.name.text}.${next}`;
  return [
    {
      label,
      kind: CompletionItemKind.Snippet,
      text: `${label}${factsText(above.text, statement)}`,
      note: 'like the line above',
    },
  ];
}

/** What was noted of one graft alone is not carried to the next. */
const ownOf: ReadonlySet<Key> = new Set<Key>(['photo', 'accept', 'branch']);

function factsText(text: string, statement: Statement): string {
  const kept = statement.facts.filter((fact) => !fact.lost && !ownOf.has(fact.key));
  return kept.map((fact) => `  ${text.slice(fact.span.start, fact.span.end)}`).join('');
}

/** Facts not given yet: those that lines like this have as a rule first, each with the value it had last. */
export function factCandidates(
  view: FileView,
  slot: Extract<Slot, { kind: 'fact' | 'value' }>,
  writing: Writing,
): Candidate[] {
  const { statement, word } = slot;
  const row = verbRow(statement.verb);
  const last = usual(view.root.log, writing);
  const given = new Set<Key>(statement.facts.map((fact) => fact.key));
  if (slot.kind === 'value') given.add(slot.key);
  const order = [...last.keys()];
  const lastOf = (key: Key) =>
    last.get(key) ??
    (statement.verb === 'practice' ? ruleValues(view.root.log, key, statement, writing)[0] : undefined);
  const timed = given.has('work') || given.has('earliest');
  const rank = ({ key }: Offer) => {
    // for whom a rule is comes before what it says, and once it is said last
    if (key === undefined && row.operand === 'scopes') return statement.scopes?.length ? Number.MAX_SAFE_INTEGER : -1;
    // a piece of work is read with its time only
    if (timed && (key === 'after' || key === 'wait')) return -1;
    const at = key === undefined ? -1 : order.indexOf(key);
    return at < 0 ? order.length : at;
  };
  const facts = factOffers(statement.verb, given)
    .sort((a, b) => rank(a) - rank(b))
    .map((offer) => factCandidate(offer, offer.key === undefined ? undefined : lastOf(offer.key)))
    .filter((candidate) => row.operand !== 'scopes' || agrees(candidate, writing.entry?.line.text ?? '', slot));
  const declares = row.operand === 'name' || row.operand === 'none';
  const plantsDue = row.taxa && !statement.taxa && (word === '' ? declares : /^\p{Lu}/u.test(word));
  const sets = (row.operand === 'sets' || row.operand === 'scopes') && !given.has('share') && word !== '';
  return [
    ...(row.share && !given.has('share') ? shareCandidates(view, statement) : []),
    ...(plantsDue ? plantCandidates(view, writing) : []),
    ...facts,
    ...(row.operand === 'sets' ? setWords(view, slot) : []),
    ...(sets ? nameCandidates(view, actedOn(statement.verb), word, writing) : []),
  ];
}

/** A rule holds one thing and is for one group, one method: what would contradict the line is no offer. */
function agrees({ label, snippet }: Candidate, text: string, { from, word }: Slot): boolean {
  const added = snippet ? snippet.replace(/\$\{1:(.*)\}/u, '$1').replaceAll(/\\(.)/g, '$1') : label;
  const contradictions = (line: string) =>
    readLine(line).problems.filter(({ code }) => code === 'contradiction').length;
  const [head, tail] = [text.slice(0, from), text.slice(from + word.length)];
  return contradictions(`${head}${added}${tail}`) <= contradictions(`${head}${tail}`);
}

function factCandidate(offer: Offer, last: string | undefined): Candidate {
  const { label, kind, key } = offer;
  const about = key === undefined ? {} : { about: { of: 'key', word: key } as const };
  const used = last === undefined ? offer.snippet : last === '' ? undefined : `${label} \${1:${inSnippet(last)}}`;
  const snippet = kind === 'fact' ? used : offer.snippet;
  return { label, kind: itemKinds[kind], ...(snippet ? { snippet } : {}), ...about };
}

/** Text as it stands in a snippet: its own signs are no places to fill in. */
const inSnippet = (text: string): string => text.replaceAll(/[$}\\]/g, '\\$&');

const plantCandidates = ({ root }: FileView, writing: Writing): Candidate[] => plants(lastPlants(root.log, writing));

/** Behind `Pinus parviflora /`: what was grafted on last. */
export const stockCandidates = ({ root }: FileView, writing: Writing): Candidate[] =>
  plants(lastStocks(root.log, writing));

const plants = (labels: readonly string[]): Candidate[] =>
  labels.map((label) => ({ label, kind: CompletionItemKind.Text }));

/** Right behind a set of grafts: what narrows it. */
function setWords(
  { root }: FileView,
  { statement: { sets, facts }, from }: Slot & { statement: Statement },
): Candidate[] {
  const set = sets.at(-1);
  if (!set || facts.some(({ span }) => span.start > set.span.start && span.start < from)) return [];
  if (!root.log.names.isBatch(set.name.key) || set.rest || set.except || set.count) return [];
  const except = { label: 'except', kind: CompletionItemKind.EnumMember, note: 'all but some' };
  // of several batches each has a `rest` of its own, or none
  if (!sets.slice(0, -1).every(({ rest }) => rest)) return [except];
  return [{ label: 'rest', kind: CompletionItemKind.EnumMember, note: 'those still to judge' }, except];
}

/** Forms whose every value is a word of the notation; in the others a hand may write what nobody wrote before. */
const closed: ReadonlySet<string> = new Set(['choice', 'work', 'events', 'covers', 'year', 'code', 'task']);

/** What may stand behind a key, and whether it is all that may. */
export function valueCandidates(
  view: FileView,
  { statement, key, word }: Extract<Slot, { kind: 'value' }>,
  writing: Writing,
): { readonly candidates: Candidate[]; readonly closed: boolean } {
  const row = keyRow(key);
  const form = row.with?.[statement.verb]?.value ?? row.value;
  if (row.of && (form === 'name' || form === 'names')) {
    // nothing is like itself, no tree comes from itself
    const own = verbRow(statement.verb).operand === 'name' ? statement.sets[0]?.name.key : undefined;
    const names = nameCandidates(view, [row.of], word, writing, key);
    return { candidates: names.filter(({ label }) => label.toLowerCase() !== own), closed: true };
  }
  if (form === 'code') return { candidates: codeCandidates(view, writing), closed: true };
  if (closed.has(form))
    return { candidates: valueOffers(key).map((offer) => factCandidate(offer, undefined)), closed: true };
  const rule = statement.verb === 'practice';
  const values = rule ? ruleValues(view.root.log, key, statement, writing) : lastValues(view.root.log, key, writing);
  const example = row.example.slice(key.length).trim();
  const shown = values.length > 0 ? values : form === row.value && example ? [example] : [];
  const note = values.length > 0 ? {} : { note: 'for example' };
  return { candidates: shown.map((label) => ({ label, kind: CompletionItemKind.Value, ...note })), closed: false };
}

/** Codes that can be accepted: those found on this very line first. */
export function codeCandidates({ root }: FileView, { batch, entry }: Writing): Candidate[] {
  const here = batch === undefined ? [] : root.answers.of(batch).findings.filter((finding) => finding.entry === entry);
  const offers = valueOffers('accept').map(({ label }) => label);
  const labels = new Set([
    ...here.map(({ code }) => code as string).filter((code) => offers.includes(code)),
    ...offers,
  ]);
  return [...labels].map((label) => ({
    label,
    kind: CompletionItemKind.EnumMember,
    about: { of: 'code', word: label },
  }));
}
