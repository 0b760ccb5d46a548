import fc from 'fast-check';
import { expect } from 'vitest';
import { type Code, codes } from '#grammar/codes.ts';
import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';
import { drawn } from './draw.ts';
import type { Season } from './model.ts';
import { makeSeason, writtenUntil } from './season.ts';
import { plantersOf } from './slips/index.ts';
import { type Written, write } from './write.ts';

/** A season as it is read: files, day, station; and what must be found in it. */
export interface Case {
  readonly files: Readonly<Record<string, string>>;
  readonly today: Day;
  readonly station: string | undefined;
  /** `warning open-soon 1.graft:12`, lines counted from 1. */
  readonly expected: readonly string[];
  readonly season: Season;
}

const caseOf = (season: Season, { files }: Written, expected: readonly string[]): Case => {
  const { today, station } = season;
  const shown = Object.entries(files).map(([file, text]) => `--- ${file}\n${text}`);
  return {
    ...{ files, today, station, expected, season },
    // What fast-check prints of a season that fails is the log itself.
    [fc.toStringMethod]: () => `on ${isoDay(today)}\n${shown.join('\n')}`,
  } as Case;
};

export const healthy: fc.Arbitrary<Case> = drawn((draw) => {
  const season = makeSeason(draw);
  if (!season) throw new Error('a season without wishes can always be made');
  const until = writtenUntil(season, season.today);
  return caseOf(until, write(draw, until), []);
});

/** Most seasons have room for a slip at the first go, the rarest ones at the tenth. */
const goes = 200;

/** A healthy season with one slip of this code in it. */
export const slipped = (code: Code): fc.Arbitrary<Case> =>
  drawn((draw) => {
    for (let go = 0; go < goes; go++) {
      const { wish = { told: true }, plant } = draw.pick(plantersOf(code));
      const season = makeSeason(draw, wish);
      const batch = season?.batches[0];
      const slip = season && batch && plant({ draw, season, batch });
      if (!season || !slip) continue;
      const until = writtenUntil(season, slip.today);
      const written = write(draw, until);
      const at = written.at.get(slip.line);
      if (!at) throw new Error(`the slip of ${code} was not written`);
      return caseOf(until, written, [`${slip.severity ?? codes[code].severity} ${code} ${at.file}:${at.line + 1}`]);
    }
    throw new Error(`no season had room for ${code}`);
  });

/** A season has hundreds of choices, and taking them back one by one lasts minutes: only where `SHRINK=1` asks for it. */
export const asked = (numRuns: number, seed?: number): fc.Parameters<[Case]> => ({
  numRuns,
  endOnFailure: process.env.SHRINK === undefined,
  ...(seed === undefined ? {} : { seed }),
});

/** Reads the log through the door that editor and command line use, and compares what is said with what must be. */
export function judge({ files, today, station, expected }: Case): void {
  const log = new Log();
  for (const [file, text] of Object.entries(files)) log.addFile(file, text);
  const answers = new Answers(log, today, () => (station === undefined ? { unread: 'missing' } : { text: station }));
  const said = [...answers.findings()].map(({ entry, severity, code }) => {
    const line = log.document(entry.file)?.lineOf(entry) ?? -1;
    return `${severity} ${code} ${entry.file}:${line + 1}`;
  });
  expect(said).toEqual(expected);
}
