import type { Statement } from '#grammar/statement.ts';
import type { Event } from './book.ts';
import { factOf, namedIn } from './facts.ts';
import type { Log } from './log.ts';
import type { Entry, Stay } from './model.ts';
import { byHistory } from './order.ts';
import type { Origin } from './origin.ts';

/** A stay at a place from a line on; a place nothing declares is as good as unknown. */
export function placeStay(place: string, { day, entry }: Pick<Event, 'day' | 'entry'>, log: Log): Stay {
  return log.names.declared(place)?.kind === 'place' ? { day, entry, place } : { day, entry, place, unknown: true };
}

/** Where grafts stand on the day they are made: on their tree, which stands somewhere itself, else in a place, else nobody says. */
export function firstStays(origin: Origin, event: Event, log: Log): Stay[] {
  if (origin.tree !== undefined) return [treeStay(origin.tree, event, treePlace(origin.tree, event.entry, log), log)];
  const place = namedIn(origin.fact('in')?.fact)?.key;
  if (place !== undefined) return [placeStay(place, event, log)];
  return [];
}

export function treeStay(tree: string, event: Pick<Event, 'day' | 'entry'>, place: string | undefined, log: Log): Stay {
  const { day, entry } = event;
  return place === undefined ? { day, entry, tree, unknown: true } : { ...placeStay(place, event, log), tree };
}

/** Where a tree stands when a line is written: by its last `move` before, else by its own line. */
function treePlace(tree: string, at: Entry, log: Log): string | undefined {
  const moves = log.names.workOn(tree)?.all ?? [];
  for (let i = moves.length - 1; i >= 0; i--) {
    const entry = moves[i] as Entry;
    const statement = entry.line.statement as Statement;
    if (statement.verb !== 'move' || statement.idle || entry.day === undefined || byHistory(entry, at) > 0) continue;
    const to = namedIn(factOf(statement, 'to'));
    if (to) return to.key;
  }
  return namedIn(factOf(log.names.declared(tree)?.entry.line.statement, 'in'))?.key;
}
