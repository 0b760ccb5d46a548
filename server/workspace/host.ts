import type { Day } from '#grammar/statement.ts';
import type { WeatherText } from '#server/engine/station-lines.ts';

/** What is asked of the world outside: the folder's files and the day. Node and the browser each give their own. */
export interface Host {
  /** URIs of every log under a root: all `.graft` files, hidden folders and `node_modules` apart. */
  list(root: string): Promise<readonly string[]>;
  /** `undefined` where it can't be read. */
  read(uri: string): Promise<string | undefined>;
  /**
   * A file that a log names, by whoever wrote the log: never one that lies outside the root, links followed to their end,
   * and never one of more bytes than `most`.
   */
  readNamed(root: string, uri: string, most: number): Promise<WeatherText>;
  /** Today in a time zone (IANA name), or on this machine's clock where the zone is not told or not known. */
  today(zone: string | undefined): Day;
  /** Milliseconds, for slices of long work. */
  now(): number;
  /** Runs something after a while; the answer calls it off. */
  later(milliseconds: number, run: () => void): () => void;
  /** Lets whatever waits be answered before the next piece of long work. */
  pause(): Promise<void>;
}
