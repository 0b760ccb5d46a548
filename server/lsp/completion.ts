import type { CompletionItem, CompletionList } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { type Slot, slotAt } from '#grammar/slot.ts';
import type { Statement } from '#grammar/statement.ts';
import { keyRow, nearest, verbRow } from '#grammar/vocabulary.ts';
import { actedOn } from '#server/engine/mentions.ts';
import type { NameKind } from '#server/engine/model.ts';
import type { Writing } from '#server/engine/used.ts';
import {
  codeCandidates,
  factCandidates,
  stockCandidates,
  valueCandidates,
  verbCandidates,
} from './completion-facts.ts';
import { type Candidate, type ItemOptions, nameKinds, toItem } from './completion-item.ts';
import { exceptCandidates, targetCandidates } from './completion-names.ts';
import { entryAt, type FileView } from './feature.ts';

export interface CompletionOptions extends ItemOptions {
  /** The character that asked, where it was no letter. */
  readonly trigger: string | undefined;
}

/**
 * What may stand at the caret. A finished line is left alone: a word that is one already gets no offer, and a blank asks
 * only where the line waits for something.
 */
export function completion(view: FileView, position: Position, options: CompletionOptions): CompletionList {
  const text = entryAt(view, position)?.line.text ?? '';
  const slot = slotAt(text, position.character);
  if (!slot || slot.kind === 'name' || /^\S/.test(text.slice(position.character))) return list([]);
  if ((options.trigger === ' ' || options.trigger === '.') && !isDue(slot)) return list([]);
  if (slot.kind === 'fact' && isClosed(text.slice(0, slot.from))) return list([]);
  const word = slot.word.normalize('NFC').toLowerCase();
  // a name or a number that stands is a whole set, whatever longer ones begin so
  if (/\.\d/.test(word) || (slot.kind === 'target' && view.root.log.names.declared(word))) return list([]);
  const { candidates, closed } = candidatesAt(view, position, slot);
  if (word !== '' && (!closed || candidates.some(({ label }) => label.toLowerCase() === word))) return list([]);
  return list(items(view, position, slot, candidates, options), closed);
}

/** `"a remark"|`, `K26.1,|`: a word would stick to what stands there; `P. |`: which of that genus is not known. */
const isClosed = (head: string): boolean => /[^\s:=]$|(?<!\S)\p{Lu}\.\s+$/u.test(head);

/** `again`: asked anew with each letter, so that an offer is gone once its word is written out. */
const list = (found: CompletionItem[], again = true): CompletionList => ({ isIncomplete: again, items: found });

/** The line waits for this; what follows is not a matter of choice. */
export const isDue = (slot: Slot): boolean =>
  slot.kind === 'value' ? !slot.optional : slot.kind === 'fact' ? slot.due : slot.kind !== 'verb';

interface Offered {
  readonly candidates: readonly Candidate[];
  /** Nothing else can stand here. Where a hand may write anything, only an empty place is filled. */
  readonly closed: boolean;
}

function candidatesAt(view: FileView, position: Position, slot: Slot): Offered {
  const { word } = slot;
  if (slot.kind === 'verb') return { candidates: verbCandidates(view, position.line, slot.from, word), closed: true };
  if (/^\d/.test(word)) return { candidates: [], closed: true };
  const writing = writingOf(view, position, slot);
  switch (slot.kind) {
    case 'name':
      return { candidates: [], closed: true };
    case 'target':
      return { candidates: targetCandidates(view, slot.statement, word, writing), closed: true };
    case 'stock':
      return { candidates: stockCandidates(view, writing), closed: true };
    case 'except':
      return { candidates: exceptCandidates(view, slot.set, slot.statement.verb), closed: true };
    case 'codes':
      return { candidates: codeCandidates(view, writing), closed: true };
    case 'value': {
      const values = valueCandidates(view, slot, writing);
      if (!slot.optional) return values;
      // `film` may stand alone: a word behind it is the next fact
      const facts = factCandidates(view, slot, writing);
      return { candidates: word === '' ? [...values.candidates, ...facts] : facts, closed: true };
    }
    case 'fact':
      return { candidates: factCandidates(view, slot, writing), closed: true };
  }
}

/** Lines like the one being written are those with its verb; on its batch, where it names one. */
export function writingOf(view: FileView, position: Position, { statement }: Exclude<Slot, { kind: 'verb' }>): Writing {
  const entry = entryAt(view, position);
  const batch = statement.sets.find((set) => view.root.log.names.isBatch(set.name.key))?.name.key;
  return {
    verb: statement.verb,
    ...(batch === undefined ? {} : { batch }),
    ...(entry ? { entry } : {}),
  };
}

function items(
  view: FileView,
  position: Position,
  slot: Slot,
  candidates: readonly Candidate[],
  options: ItemOptions,
): CompletionItem[] {
  const range = { start: { line: position.line, character: slot.from }, end: position };
  const word = slot.word.normalize('NFC').toLowerCase();
  const fitting = candidates.filter(({ label }) => isIn(word, label.toLowerCase()));
  const found = fitting.map((candidate, order) => toItem(candidate, { uri: view.uri, range, order }, options));
  if (fitting.length > 0 || word.length < 2) return found;
  const near = misspelt(view, slot, word, candidates);
  // the editor would leave out what doesn't hold the letters typed
  return near.map((candidate, order) => toItem(candidate, { uri: view.uri, range, order, filter: slot.word }, options));
}

/**
 * Whether a word's letters stand in another in their order, the first at its start: what editors let through. Of a date
 * no figure is left out: `2026-1-29` is not on the way to `2026-11-29`.
 */
function isIn(word: string, label: string): boolean {
  if (/^\d/.test(word)) return label.startsWith(word);
  if (word !== '' && word[0] !== label[0]) return false;
  let at = 0;
  for (const letter of label) if (letter === word[at]) at++;
  return at >= word.length;
}

/**
 * What was meant by a word that begins nothing. Behind a genus it may be a plant's own word; a date is no misspelt today;
 * and which graft a number means is not guessed where Enter would end the line with it.
 */
function misspelt(view: FileView, slot: Slot, word: string, candidates: readonly Candidate[]): Candidate[] {
  if (/^\d/.test(word) || slot.kind === 'stock') return [];
  if (slot.kind !== 'verb' && isGenusLast(slot.statement)) return [];
  const near = nearest(word, new Set(candidates.map(({ label }) => label.toLowerCase())));
  const found = candidates.filter(({ label }) => label.toLowerCase() === near && !(/\d/.test(label) && mayEnd(slot)));
  const kinds = kindsAt(slot);
  const declared = kinds.length > 0 ? view.root.log.names.near(word, kinds) : undefined;
  if (declared && !found.some(({ label }) => label.toLowerCase() === declared.key))
    if (!(/\d/.test(declared.key) && mayEnd(slot)))
      found.push({
        label: declared.name,
        kind: nameKinds[declared.kind],
        about: { of: 'name', word: declared.key },
      });
  return found;
}

function isGenusLast({ verbSpan, sets, taxa, facts }: Statement): boolean {
  if (!taxa || (taxa.stock ?? taxa.interstem ?? taxa.scion).epithet) return false;
  return [verbSpan, ...[...sets, ...facts].map(({ span }) => span)].every(({ end }) => end <= taxa.span.end);
}

/** Nothing has to follow the word for the line to say something. */
function mayEnd(slot: Slot): boolean {
  if (slot.kind !== 'target') return slot.kind !== 'verb';
  const { share, operand } = verbRow(slot.statement.verb);
  return share !== 'asked' && operand !== 'made' && slot.statement.verb !== 'move';
}

function kindsAt(slot: Slot): readonly NameKind[] {
  if (slot.kind === 'target') return actedOn(slot.statement.verb);
  const { of } = slot.kind === 'value' ? keyRow(slot.key) : {};
  if (of) return [of];
  return slot.kind === 'fact' && verbRow(slot.statement.verb).operand === 'sets' ? actedOn(slot.statement.verb) : [];
}
