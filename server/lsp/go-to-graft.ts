import { readGrafts } from '#grammar/values/graft-set.ts';
import type { Root } from '#server/workspace/root.ts';
import { madeBy } from './definition.ts';
import type { GoToGraftResult } from './protocol.ts';
import { lineOf } from './to-protocol.ts';

/** The line that made a graft, or that declares a batch, from what was typed or scanned: its number stands first. */
export function goToGraft(roots: readonly Root[], text: string): GoToGraftResult {
  const word = text.trim().split(/\s/)[0] ?? '';
  const grafts = /^\p{L}[\p{L}\p{M}\p{N}_-]*\.\d+/u.test(word) ? readGrafts(word) : { name: word, numbers: [] };
  const key = grafts.name.normalize('NFC').toLowerCase();
  for (const root of roots) {
    const number = grafts.numbers[0];
    const entry = number === undefined ? root.log.names.declared(key)?.entry : madeBy(root, key, [number, number])[0];
    if (entry)
      return {
        uri: root.uriOf(entry.file),
        line: lineOf(root, entry),
        character: entry.line.statement?.verbSpan.start ?? 0,
      };
  }
  return null;
}
