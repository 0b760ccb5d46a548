import { reservedWords } from '#grammar/vocabulary.ts';
import type { Log } from '#server/engine/log.ts';
import { countText } from '#server/engine/say.ts';
import { type Named, namesIn, saysName } from './name-at.ts';
import { refused } from './refused.ts';

const letters = String.raw`[\p{L}\p{M}\p{N}]`;
const thing = new RegExp(String.raw`^\p{L}${letters}*(?:[-_]${letters}+)*$`, 'u');
const person = new RegExp(String.raw`^\p{L}${letters}*(?:[-_'’]${letters}+)*$`, 'u');

/** A name as it may be written; refuses one that can't be read as a name, or means something already. */
export function checkedName(newName: string, hand: boolean): string {
  const text = newName.trim().normalize('NFC');
  if (!(hand ? person : thing).test(text)) {
    const tried = text.replace(/[^\p{L}\p{M}\p{N}]+/gu, '-').replace(/^[-\p{N}\p{M}]+|-+$/gu, '');
    throw refused(
      `\`${text}\` can’t be a name: it begins with a letter and holds together, letters, figures and hyphens${thing.test(tried) ? `, such as \`${tried}\`` : ''}.`,
    );
  }
  if (!hand && reservedWords.has(text.toLowerCase()))
    throw refused(`\`${text}\` is a word of the notation: give it a name of its own, such as \`${text}-1\`.`);
  return text;
}

/** Why a name is not free, in a sentence; nothing where it is, or where only its spelling changes. */
export function isTaken(log: Log, { name, as }: Named, text: string): string | undefined {
  const key = text.toLowerCase();
  if (key === name.key) return undefined;
  if (as === 'hand') {
    const lines = linesBy(log, key);
    return lines === 0
      ? undefined
      : `\`${text}\` has ${countText(lines, 'line')} of work already: both would be one hand, and can’t be told apart again.`;
  }
  const declared = log.names.declared(key);
  if (declared)
    return `\`${declared.name}\` is a ${declared.kind} of this log: a name is kept for life, and two never become one.`;
  const lines = log.names.mentions(key).length;
  return lines === 0
    ? undefined
    : `\`${text}\` stands on ${countText(lines, 'line')} already: a name is kept for life, and two never become one.`;
}

function linesBy(log: Log, key: string): number {
  let lines = 0;
  for (const file of log.fileNames)
    for (const { line } of log.document(file)?.entries ?? [])
      if (
        line.statement &&
        saysName(line.statement, key) &&
        namesIn(line.statement).some(({ as, name }) => as === 'hand' && name.key === key)
      )
        lines++;
  return lines;
}
