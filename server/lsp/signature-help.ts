import {
  MarkupKind,
  type SignatureHelp,
  type SignatureHelpContext,
  SignatureHelpTriggerKind,
} from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { type Slot, slotAt } from '#grammar/slot.ts';
import { type Taken, takenBy } from '#grammar/takes.ts';
import { keyRow, verbRow } from '#grammar/vocabulary.ts';
import { usual } from '#server/engine/used.ts';
import { isDue, writingOf } from './completion.ts';
import { entryAt, type FileView } from './feature.ts';

/** More would be a wall over the line. */
const most = 12;

/**
 * What the line takes from here on: what was given is left out, what lines like this one have as a rule comes first. A
 * blank shows it only where the line waits for something; once shown it stays along the line.
 */
export function signatureHelp(
  view: FileView,
  position: Position,
  context: SignatureHelpContext | undefined,
): SignatureHelp | null {
  const slot = slotAt(entryAt(view, position)?.line.text ?? '', position.character);
  if (!slot || slot.kind === 'verb') return null;
  const byBlank = context?.triggerKind === SignatureHelpTriggerKind.TriggerCharacter && !context.isRetrigger;
  if (byBlank && !isDue(slot)) return null;
  const { verb } = slot.statement;
  const { shown, active } = partsAt(view, position, slot);
  if (shown.length === 0) return null;
  const more = shown.length > most;
  let label: string = verb;
  const parameters = shown.slice(0, most).map((part) => {
    const start = label.length + 2;
    label = `${label}  ${part.label}`;
    return {
      label: [start, label.length] as [number, number],
      documentation: { kind: MarkupKind.Markdown, value: part.help },
    };
  });
  return {
    signatures: [
      {
        label: more ? `${label}  …` : label,
        documentation: { kind: MarkupKind.Markdown, value: verbRow(verb).help },
        parameters,
      },
    ],
    activeSignature: 0,
    activeParameter: Math.max(0, active ? shown.indexOf(active) : 0),
  };
}

/** What is still to come, in the order it is likely to, and which of it is due here. */
function partsAt(
  view: FileView,
  position: Position,
  slot: Exclude<Slot, { kind: 'verb' }>,
): { readonly shown: readonly Taken[]; readonly active: Taken | undefined } {
  const { statement } = slot;
  const given = new Set(statement.facts.map(({ key }) => key));
  const dueKey =
    slot.kind === 'value'
      ? slot.key
      : slot.kind === 'fact' && slot.due && verbRow(statement.verb).share
        ? 'share'
        : undefined;
  const target = slot.kind === 'target' || slot.kind === 'name' || slot.kind === 'except' || slot.kind === 'codes';
  const taken = takenBy(statement.verb).filter(({ what, key }) => {
    if (what === 'target' || what === 'scope') return true;
    if (what === 'plants') return !statement.taxa || slot.kind === 'stock';
    if (what === 'remark') return !statement.remark;
    return key === dueKey || !key || !given.has(key) || keyRow(key).repeats === true;
  });
  const { operand } = verbRow(statement.verb);
  // what it is a name for comes first
  const declares = operand === 'name' || operand === 'none';
  const waits = operand === 'scopes' && !statement.scopes?.length ? 'scope' : undefined;
  const order = [...usual(view.root.log, writingOf(view, position, slot)).keys()];
  const rank = ({ what, key }: Taken) => {
    if (what === 'target') return -4;
    if (what === 'scope' || (what === 'plants' && slot.kind === 'stock')) return -3;
    if (key !== undefined && key === dueKey) return -2;
    if (key === 'share' || (what === 'plants' && declares)) return -1;
    const at = key === undefined ? -1 : order.indexOf(key);
    return at < 0 ? order.length : at;
  };
  const shown = taken.toSorted((a, b) => rank(a) - rank(b));
  const active = shown.find(({ what, key }) => {
    if (target) return what === 'target';
    if (slot.kind === 'stock') return what === 'plants';
    if (dueKey) return key === dueKey;
    return waits ? what === waits : what !== 'target' && what !== 'scope';
  });
  return { shown, active };
}
