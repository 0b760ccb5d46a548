import type { Span } from './finding.ts';
import { readLine } from './line.ts';
import type { SetRef, Statement } from './statement.ts';
import { Comment, Cultivar, Text, tokenize } from './tokens.ts';
import { type Key, keyRow, type ValueForm, verbRow } from './vocabulary.ts';

interface At {
  /** Where the word before the caret begins; the caret itself where there is none. */
  readonly from: number;
  /** What of it stands before the caret. */
  readonly word: string;
}

/** What a line takes at a place in it. `statement` is what stands before the word there, with the facts behind it. */
export type Slot = At &
  (
    | { readonly kind: 'verb' }
    /** `name`: a new one is given, or a file, which nobody can know. */
    | { readonly kind: 'target' | 'codes' | 'name'; readonly statement: Statement }
    /** Behind the stroke of a pair: what it is grafted on. */
    | { readonly kind: 'stock'; readonly statement: Statement }
    /** Behind `except`: some of that set. */
    | { readonly kind: 'except'; readonly statement: Statement; readonly set: SetRef }
    /** Behind a key. `optional`: the key may stand alone, so that the next fact may come as well. */
    | { readonly kind: 'value'; readonly statement: Statement; readonly key: Key; readonly optional: boolean }
    /** `due`: how far it is now, for whom a rule is, or which plants pair is asked for and not given yet. */
    | { readonly kind: 'fact'; readonly statement: Statement; readonly due: boolean }
  );

const lists: ReadonlySet<ValueForm> = new Set(['names', 'hands', 'code', 'year', 'work', 'events', 'covers']);

/** Nothing inside a remark, a text or a cultivar's name. */
export function slotAt(text: string, character: number): Slot | undefined {
  const before = text.slice(0, character);
  if (isInside(before)) return undefined;
  const word = /[^\s,;:="“”#/]*$/u.exec(before)?.[0] ?? '';
  const from = before.length - word.length;
  const head = before.slice(0, from);
  const at = { from, word };
  if (/^\s*(?:\d{4}-\d{1,2}-\d{1,2}\s+)?(?:\d{1,2}:\d{2}\s+)?$/.test(head)) return { ...at, kind: 'verb' };
  const { statement } = readLine(head);
  if (!statement) return undefined;
  const behind = text.slice(character).trim() === '' ? undefined : readLine(text).statement;
  return behind ? beforeMore(statement, behind, character, head, at) : behindVerb(statement, head, at);
}

/** In the middle of a line nothing is asked for that stands behind the caret, and nothing inside a plant's name. */
function beforeMore(statement: Statement, whole: Statement, character: number, head: string, at: At): Slot | undefined {
  const slot = behindVerb(statement, head, at);
  if (!slot || slot.kind === 'verb') return slot;
  const behind = ({ start }: Span) => start >= character;
  const { taxa } = whole;
  if (taxa && !behind(taxa.span) && taxa.span.end > character) return undefined;
  if (slot.kind === 'target' && whole.sets.some(({ span }) => behind(span))) return undefined;
  if (slot.kind === 'value' && whole.facts.some(({ key, valueSpan }) => key === slot.key && behind(valueSpan)))
    return undefined;
  const facts = whole.facts.filter(({ span }) => behind(span));
  const more = { ...statement, ...(taxa ? { taxa } : {}), facts: [...statement.facts, ...facts] };
  const due = slot.kind === 'fact' ? { due: slot.due && !facts.some(({ key }) => key === 'share') } : {};
  return { ...slot, ...due, statement: more };
}

function behindVerb(statement: Statement, head: string, at: At): Slot | undefined {
  // `cut: ` waits as `cut ` does
  const end = head.replace(/\s*[:=]?\s*$/, '').length;
  const row = verbRow(statement.verb);
  const key = keyDue(statement, head, end);
  if (key) return { ...at, kind: 'value', statement, ...key };
  if (statement.taxa && /^\s*\/\s*$/.test(head.slice(statement.taxa.span.end)))
    return { ...at, kind: 'stock', statement };
  if (/\bexcept\s+$/.test(head)) {
    const set = statement.sets.at(-1) ?? exceptOf(head);
    return set ? { ...at, kind: 'except', statement, set } : undefined;
  }
  if (statement.verb === 'accept' && (!statement.codes || statement.codes.at(-1)?.span.end === end - 1))
    if (!statement.codes || head.endsWith(',')) return { ...at, kind: 'codes', statement };
  const { operand, share } = row;
  if ((operand === 'name' && statement.sets.length === 0) || (statement.verb === 'weather' && !statement.remark))
    return { ...at, kind: 'name', statement };
  if ((operand === 'sets' || operand === 'made') && statement.sets.length === 0)
    return { ...at, kind: 'target', statement };
  const due =
    (share === 'asked' && !statement.facts.some((fact) => fact.key === 'share')) ||
    (statement.verb === 'practice' && !statement.scopes?.length) ||
    (statement.verb === 'pair' && !statement.taxa);
  return { ...at, kind: 'fact', statement, due };
}

/** `in |`, `by |`, `by mk,|`: a key that waits for its value, or for one more. */
function keyDue(statement: Statement, head: string, end: number): { key: Key; optional: boolean } | undefined {
  const last = statement.facts.reduce<Statement['facts'][number] | undefined>(
    (latest, fact) => (latest && latest.span.end > fact.span.end ? latest : fact),
    undefined,
  );
  if (!last) return undefined;
  const { key, span, valueSpan, value, lost } = last;
  const row = keyRow(key);
  if (span.end === end && end < head.length) {
    if (lost === 'unread' && valueSpan.start === span.start) return { key, optional: false };
    if (value.kind === 'flag' && row.optional) return { key, optional: true };
  }
  return head.endsWith(',') && span.end === head.length - 1 && lists.has(row.value)
    ? { key, optional: false }
    : undefined;
}

/** The set before an `except` that waits for what it leaves out: without that the set can't be read. */
function exceptOf(head: string): SetRef | undefined {
  return readLine(head.replace(/\s*\bexcept\s+$/, '')).statement?.sets.at(-1);
}

function isInside(before: string): boolean {
  const last = tokenize(before).at(-1);
  if (!last) return false;
  if (last.tokenType === Comment) return true;
  if (last.startOffset + last.image.length < before.length) return false;
  if (last.tokenType === Text) return !/^(?:"(?:[^"]|"")*"|“[^”]*”)$/.test(last.image);
  return last.tokenType === Cultivar && (last.image.length < 2 || !/['’]$/.test(last.image));
}
