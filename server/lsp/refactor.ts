import {
  type CodeAction,
  type CodeActionContext,
  CodeActionKind,
  CodeActionTriggerKind,
  type Range,
} from 'vscode-languageserver';
import { ownWords } from '#grammar/own-words.ts';
import type { SetRef } from '#grammar/statement.ts';
import { readGrafts } from '#grammar/values/graft-set.ts';
import type { Entry, LogEdit } from '#server/engine/model.ts';
import { shareFacts } from '#server/engine/refactor/share-facts.ts';
import { piecesAt, splitSet, splitTitle, splittable } from '#server/engine/refactor/split-set.ts';
import { writeDate } from '#server/engine/refactor/write-dates.ts';
import { entryAt, type FileView, inside } from './feature.ts';
import { commands, type SplitParams, type SplitResult } from './protocol.ts';
import { logEdits } from './to-protocol.ts';

export const refactorKinds = {
  split: `${CodeActionKind.RefactorExtract}.grafts`,
  share: 'refactor.move.facts',
  dates: `${CodeActionKind.RefactorRewrite}.dates`,
  words: `${CodeActionKind.RefactorRewrite}.words`,
} as const;
/** So many lines are looked through for one that could be written otherwise. */
const linesLooked = 2000;

export interface RefactorOptions {
  /** The client asks for an action's edits when it is chosen. */
  readonly resolves: boolean;
  /** It has our commands, and can ask which grafts are meant. */
  readonly asks: boolean;
}

interface Refactoring {
  readonly title: string;
  readonly kind: string;
  readonly edits: () => readonly LogEdit[];
}

/**
 * Other ways to write the same: every history stays what it was. Offered when asked for, or on what is selected; the
 * light bulb isn't lit on every line.
 */
export function refactorActions(
  view: FileView,
  range: Range,
  { only, triggerKind }: Pick<CodeActionContext, 'only' | 'triggerKind'>,
  { resolves, asks }: RefactorOptions,
): CodeAction[] {
  const wants = (kind: string) => !only || only.some((asked) => kind === asked || kind.startsWith(`${asked}.`));
  if (!Object.values(refactorKinds).some(wants)) return [];
  const selected = range.start.line !== range.end.line || range.start.character !== range.end.character;
  if (!only && triggerKind === CodeActionTriggerKind.Automatic && !selected) return [];
  const actions = refactorings(view, range)
    .filter(({ kind }) => wants(kind))
    .map(
      ({ title, kind, edits }): CodeAction =>
        resolves
          ? { title, kind, data: { uri: view.uri, range, title } }
          : { title, kind, edit: { changes: logEdits(view.root, edits()) } },
    );
  return asks && wants(refactorKinds.split) ? [...actions, ...askedSplit(view, range)] : actions;
}

/** The edits of an action that was chosen. */
export function resolvedAction(action: CodeAction, view: FileView): CodeAction {
  const { range, title } = action.data as { range: Range; title: string };
  const found = refactorings(view, range).find((one) => one.title === title);
  return found ? { ...action, edit: { changes: logEdits(view.root, found.edits()) } } : action;
}

function refactorings(view: FileView, range: Range): Refactoring[] {
  return [...splits(view, range), ...shared(view, range), ...dates(view, range), ...words(view, range)];
}

function splits(view: FileView, range: Range): Refactoring[] {
  const at = setAt(view, range);
  if (!at) return [];
  const found = new Map<string, Refactoring>();
  const end = range.end.line === range.start.line ? range.end.character : range.start.character;
  for (const numbers of piecesAt(at.entry, at.set, { start: range.start.character, end })) {
    const edits = splitSet(at.entry, at.set, numbers);
    const title = splitTitle(at.set, numbers);
    if (edits) found.set(title, { title, kind: refactorKinds.split, edits: () => edits });
  }
  return [...found.values()];
}

function setAt(view: FileView, { start }: Range): { readonly entry: Entry; readonly set: SetRef } | undefined {
  const entry = entryAt(view, start);
  const set = entry && splittable(entry, view.root.log).find(({ span }) => inside(span, start.character));
  return entry && set && { entry, set };
}

/** Which grafts go to a line of their own is asked in the editor. */
function askedSplit(view: FileView, range: Range): CodeAction[] {
  const at = setAt(view, range);
  if (!at?.set.numbers || (at.set.numbers.length === 2 && at.set.numbers[0] === at.set.numbers[1])) return [];
  const { line } = range.start;
  const set = at.entry.line.text.slice(at.set.span.start, at.set.span.end);
  const params: Omit<SplitParams, 'grafts'> = { uri: view.uri, line, character: at.set.span.start };
  const title = 'Split grafts off …';
  return [
    { title, kind: refactorKinds.split, command: { title, command: commands.splitSet, arguments: [params, set] } },
  ];
}

/** The edits that split the grafts named off the set at a place, or why that can't be. */
export function splitNamed(view: FileView, { line, character, grafts }: SplitParams): SplitResult {
  const at = setAt(view, { start: { line, character }, end: { line, character } });
  if (!at) return { why: 'The line has changed: there is no set of grafts to split here any more.' };
  const { text } = at.set.name;
  const bare = grafts.trim();
  const written = /^\d/.test(bare) ? `${text}.${bare}` : bare;
  const { name, numbers, tooLarge } = readGrafts(written);
  const edits =
    /^[^.\s]+\.\d/.test(written) && !tooLarge && name.toLowerCase() === at.set.name.key
      ? splitSet(at.entry, at.set, numbers)
      : undefined;
  if (!edits)
    return {
      why: `${bare === '' ? 'Nothing' : written} is no part of ${at.entry.line.text.slice(at.set.span.start, at.set.span.end)}: name some of its grafts, not all.`,
    };
  return { changes: logEdits(view.root, edits) };
}

function shared(view: FileView, { start }: Range): Refactoring[] {
  const { statement } = entryAt(view, start)?.line ?? {};
  const key = statement?.verb === 'graft' || statement?.verb === 'batch' ? statement.sets[0]?.name.key : undefined;
  const found = key === undefined ? undefined : shareFacts(key, view.root.log);
  if (!found) return [];
  const [one, ...more] = found.facts;
  const long = `Move ${one} up to ${found.name}`;
  const title = more.length === 0 && long.length <= 40 ? long : `Move shared facts up to ${found.name}`.slice(0, 40);
  return [{ title, kind: refactorKinds.share, edits: () => found.edits }];
}

function* linesIn(view: FileView, { start, end }: Range): Generator<Entry> {
  // a selection that ends before a line's first letter doesn't mean that line
  const last = end.character === 0 && end.line > start.line ? end.line - 1 : end.line;
  for (let i = start.line; i <= last && i < view.document.length; i++) yield view.document.entries[i] as Entry;
}

const some = (view: FileView, range: Range, fits: (entry: Entry) => boolean): boolean => {
  let looked = 0;
  for (const entry of linesIn(view, range)) {
    if (fits(entry)) return true;
    if (++looked === linesLooked) return false;
  }
  return false;
};

function dates(view: FileView, range: Range): Refactoring[] {
  if (!some(view, range, (entry) => writeDate(entry) !== undefined)) return [];
  const title = range.start.line === range.end.line ? 'Write the day on this line' : 'Write the day on each line';
  const edits = () => [...linesIn(view, range)].flatMap((entry) => writeDate(entry) ?? []);
  return [{ title, kind: refactorKinds.dates, edits }];
}

function words(view: FileView, range: Range): Refactoring[] {
  if (!some(view, range, ({ line }) => ownWords(line).length > 0)) return [];
  const one = range.start.line === range.end.line ? ownWords((entryAt(view, range.start) as Entry).line) : [];
  const [first] = one;
  const title =
    first && one.length === 1 ? `Write ${first.text} for ${first.written}` : 'Write the notation’s own words';
  const edits = () =>
    [...linesIn(view, range)].flatMap((entry) =>
      ownWords(entry.line).map(({ span, text }): LogEdit => ({ entry, where: 'in', span, text })),
    );
  return [{ title: title.slice(0, 40), kind: refactorKinds.words, edits }];
}
