import { fromDay } from '#grammar/values/date.ts';
import { graftsText } from '../grafts-text.ts';
import type { FiguresEnv } from './env.ts';
import type { GroupKey } from './levels.ts';
import { benchSittings, numbersByWay, type TrialResult } from './trial.ts';
import { levelText } from './words.ts';

/** A field trial as lines of the log, ready to paste: the batch, then for each sitting who is grafted which way. */
export function trialLines({ trial, key }: TrialResult, env: FiguresEnv): string[] {
  const sittings = benchSittings(trial);
  const name = freeName(env);
  const numbered = { name, counted: false };
  return [
    `batch    ${name}  # write its plants and its place before the #`,
    ...sittings.flatMap((sitting, i) => {
      const { a, b } = numbersByWay(sitting);
      const line = (way: string, numbers: typeof a, label: string) =>
        `graft    ${graftsText(numbered, numbers)}  ${factsOf(key, way, label)}`;
      return [
        `# sitting ${i + 1} of ${sittings.length}, ${sitting.order.length} grafts: its day goes on a line here`,
        line(trial.ways[0], a, 'A'),
        line(trial.ways[1], b, 'B'),
      ];
    }),
  ];
}

/** The way as a fact of the line; of a class (`depth below`) there is no one fact, so a remark tells. */
function factsOf(key: GroupKey, way: string, label: string): string {
  switch (key) {
    case 'method':
    case 'wood':
      return `${way}  label ${label}`;
    case 'hand':
      return `by ${way}  label ${label}`;
    case 'place':
      return `in ${way}  label ${label}`;
    case 'lot':
      return `lot ${way}  label ${label}`;
    case 'label':
      return /^[\p{L}\p{N}_-]+$/u.test(way) ? `label ${way}` : `label "${way}"`;
    default:
      return `label ${label}  # ${levelText(key, way)}: write it as it is made`;
  }
}

/** `T28`, or with a letter where that is taken. */
function freeName({ log, day }: FiguresEnv): string {
  const year = String(fromDay(day).year).slice(2);
  const names = ['', ...'bcdefghijklmnopqrstuvwxyz'].map((letter) => `T${year}${letter}`);
  return names.find((name) => log.names.mentions(name.toLowerCase()).length === 0) ?? `T${year}-trial`;
}
