import type { Day } from '#grammar/statement.ts';
import type { Case } from './case.ts';
import { ends } from './step.ts';

export interface Stall {
  /** The step from which the clock runs, and the day from which no more are made. */
  readonly first: Day;
  readonly day: Day;
  /** Found green when it had stalled: the chain goes on from here. */
  readonly green?: Day;
}

/**
 * How long stepping may go on without the bud coming free. It runs from the first step since the wrap was last renewed,
 * an airing before the buds swelled counting from their swelling, and again from the first step after a
 * stalled graft was found green.
 */
export function stallOf(grafts: Case, swell: Day): Stall | undefined {
  const { opened, rewrapped, looks } = grafts.events;
  const renewed = rewrapped.at(-1) ?? Number.NEGATIVE_INFINITY;
  let steps = opened.filter((day) => day >= renewed);
  let stall: Stall | undefined;
  for (let first = steps[0]; first !== undefined; first = steps[0]) {
    first = Math.max(first, swell);
    const over = ends(grafts, 'open-over', first);
    if (!over.row) return undefined;
    const day = first + over.high;
    const green = looks.find((look) => look.day >= day && look.flags.has('green'))?.day;
    if (green === undefined) return { first, day };
    stall = { first, day, green };
    // a step on the day it was found green is one since
    steps = steps.filter((on) => on >= green && on > (steps[0] as Day));
  }
  return stall;
}
