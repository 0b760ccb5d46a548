import type { Day } from '#grammar/statement.ts';
import type { FiguresEnv } from '#server/engine/figures/env.ts';
import { benchSittings, type TrialResult } from '#server/engine/figures/trial.ts';
import { trialLines } from '#server/engine/figures/trial-lines.ts';
import { levelText } from '#server/engine/figures/words.ts';
import { trialGrounds, trialSentence } from '#server/engine/figures/words-ahead.ts';
import { columns, pageDay, paragraph, type TextPage, type TextPart } from './text-page.ts';

/** A field trial: how many, whether it is in reach, and a fair order at the bench with the lines to paste. */
export function trialPage(found: TrialResult, day: Day, env: FiguresEnv): TextPage {
  const { trial, key } = found;
  const [a, b] = trial.ways.map((way) => levelText(key, way));
  return [
    {
      head: `A field trial: ${a} or ${b}, as of ${pageDay(day)}`,
      lines: [...paragraph(trialSentence(found)), ...paragraph(trialGrounds(found))],
    },
    ...orderParts(found, env),
  ];
}

/** Runs of six stand apart, so that a place in the row is found again after a break. */
const run = /.{1,6}/g;
const runsInRow = 4;

function orderParts(found: TrialResult, env: FiguresEnv): TextPart[] {
  const { trial, key } = found;
  const sittings = benchSittings(trial);
  // nobody lays out a trial that can't be made
  if (sittings.length === 0 || !trial.reachable) return [];
  const [a, b] = trial.ways.map((way) => levelText(key, way));
  const rows = sittings.flatMap(({ first, order }, i) => {
    const runs = order.match(run) ?? [];
    return Array.from({ length: Math.ceil(runs.length / runsInRow) }, (_, row) => [
      row === 0 ? `sitting ${i + 1}` : '',
      `from ${first + row * 6 * runsInRow}`,
      runs
        .slice(row * runsInRow, (row + 1) * runsInRow)
        .map((one) => [...one].join(' '))
        .join('   '),
    ]);
  });
  const rule = `A is ${a}, B is ${b}. Take the grafts as they come and follow the row: so nobody chooses which way gets the better scion. When all are judged, \`graftlog stats --compare ${key}\` tells.`;
  return [
    { head: `Order at the bench, drawn with seed ${trial.seed}`, lines: [...paragraph(rule), ...columns(rows)] },
    { head: 'Lines for the log', lines: trialLines(found, env) },
  ];
}
