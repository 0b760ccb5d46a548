import { type DocumentHighlight, DocumentHighlightKind } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import type { Entry } from '#server/engine/model.ts';
import { entryAt, type FileView } from './feature.ts';
import { mayMean, type Named, type NamePlace, nameAt, namesIn, saysName } from './name-at.ts';
import { toRange } from './to-protocol.ts';

/** Asked with every step of the caret: so many lines before and after it are looked at, however long the log is. */
const near = 500;

/** The same name, or the same grafts, on the other lines of the file; `null` where no name stands, for the editor's own way. */
export function documentHighlight(view: FileView, position: Position): DocumentHighlight[] | null {
  const entry = entryAt(view, position);
  const named = entry && nameAt(entry, position.character);
  if (!entry || !named) return null;
  const lines = named.as === 'hand' ? around(view, position.line) : mentionsAround(view, entry, named);
  return lines.flatMap((line) =>
    placesOf(line, named).map((place) => ({
      range: toRange(view.root, line, named.on === 'name' ? place.name.span : place.span),
      kind: isMaking(line, place) ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
    })),
  );
}

/** Where a line names the same: the name alone is looked for, or the grafts picked of it. */
export function placesOf(line: Entry, { name, as, on, picked }: Named): NamePlace[] {
  const { statement } = line.line;
  if (!statement || !saysName(statement, name.key)) return [];
  return namesIn(statement).filter(
    (place) =>
      place.name.key === name.key &&
      (place.as === 'hand') === (as === 'hand') &&
      (on === 'name' || !picked || mayMean(place, picked)),
  );
}

const isMaking = ({ line: { statement } }: Entry, { as }: NamePlace): boolean =>
  as === 'declared' || (as === 'target' && statement?.verb === 'graft');

function around({ document }: FileView, line: number): readonly Entry[] {
  return document.entries.slice(Math.max(0, line - near), line + near);
}

function mentionsAround({ root, file }: FileView, entry: Entry, { name }: Named): readonly Entry[] {
  const all = root.log.names.mentions(name.key);
  const at = all.indexOf(entry);
  return all.slice(Math.max(0, at - near), at + near).filter((line) => line.file === file);
}
