import type { Location } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import type { Intervals } from '#grammar/statement.ts';
import { intersect } from '#grammar/values/intervals.ts';
import type { Entry } from '#server/engine/model.ts';
import { byPlace } from '#server/engine/order.ts';
import { storyOf } from '#server/engine/story.ts';
import { placesOf } from './document-highlight.ts';
import { entryAt, type FileView, type Slices } from './feature.ts';
import { type Named, nameAt, namesIn } from './name-at.ts';
import { toLocation } from './to-protocol.ts';

/**
 * From a name every line that names it; from a graft's number all it went through, lines on its place and tree among
 * them; from a hand every line it worked on. By file and line; yields between many lines.
 */
export function* references(view: FileView, position: Position, declaration: boolean): Slices<Location[]> {
  if (view.root.loading) yield view.root.whenRead();
  const entry = entryAt(view, position);
  const named = entry && nameAt(entry, position.character);
  if (!named) return [];
  const lines = named.as === 'hand' ? yield* linesOfHand(view, named) : linesOf(view, named);
  const locations: Location[] = [];
  const sorted = [...lines].sort(byPlace);
  for (const [i, line] of sorted.entries()) {
    if (i % 500 === 499) yield;
    const places = placesOf(line, named).filter(
      ({ as }) => (declaration || as !== 'declared') && (named.on === 'name' || as !== 'except'),
    );
    for (const { span } of places) locations.push(toLocation(view.root, line, span));
    // a line on the place or the tree where the graft stood names that, not the graft
    if (placesOf(line, { ...named, on: 'name' }).length === 0)
      locations.push(toLocation(view.root, line, line.line.statement?.sets[0]?.span ?? { start: 0, end: 0 }));
  }
  return locations;
}

function linesOf({ root }: FileView, { name, on, picked }: Named): ReadonlySet<Entry> {
  const mentions = root.log.names.mentions(name.key);
  if (on === 'name' || !picked) return new Set(mentions);
  const { cohorts } = root.answers.histories.of(name.key);
  const mine = cohorts.filter(({ numbers }) => intersect(numbers, picked).length > 0);
  const lines = new Set(mine.flatMap((cohort) => storyOf(cohort).map(({ entry }) => entry)));
  for (const entry of mentions) if (isAbout(entry, name.key, picked)) lines.add(entry);
  return lines;
}

/** The batch's own line, and lines that say one of the numbers: those to come, and those that slipped. */
function isAbout({ line: { statement } }: Entry, batch: string, picked: Intervals): boolean {
  return (
    statement !== undefined &&
    namesIn(statement).some(
      (place) =>
        place.name.key === batch &&
        place.as !== 'except' &&
        (place.numbers ? intersect(place.numbers, picked).length > 0 : place.as === 'declared'),
    )
  );
}

/** People are in no index: every line of the log is asked. */
function* linesOfHand({ root }: FileView, named: Named): Slices<Entry[]> {
  const lines: Entry[] = [];
  for (const file of root.log.fileNames) {
    for (const [i, entry] of (root.log.document(file)?.entries ?? []).entries()) {
      if (i % 1000 === 999) yield;
      if (placesOf(entry, named).length > 0) lines.push(entry);
    }
  }
  return lines;
}
