import type { Problem } from './finding.ts';
import type { Day, Line } from './statement.ts';

/** A line in its place: what the engine reasons about. `rank` grows downward in its file and is no line number. */
export interface Entry {
  readonly line: Line;
  /** Path relative to the log's root, with `/`; what findings and JSON show. */
  readonly file: string;
  readonly rank: number;
  /** Its own date, else the day line's above it; absent where there is none or it can't be read. */
  readonly day?: Day;
  /** Minutes since midnight; an untimed line has that of the timed line above it in its day. */
  readonly minute: number;
  /** What only its place in the file tells: work without a day, a day line far before the one above it. */
  readonly problems?: readonly Problem[];
}
