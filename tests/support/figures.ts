import { checkEnv } from '#server/engine/checks/env.ts';
import type { FiguresEnv } from '#server/engine/figures/env.ts';
import { type Piece, piecesOf } from '#server/engine/figures/pieces.ts';
import type { BatchHistory } from '#server/engine/model.ts';
import { later, logOf } from './log.ts';

/** A log on a day, as figures are asked of it. */
export function recordOf(
  text: string,
  on: string = later,
): { histories: BatchHistory[]; env: FiguresEnv; pieces: Piece[] } {
  const view = logOf(text, on);
  const histories = [...view.batches()].map((batch) => view.history(batch));
  const env = checkEnv(view.log, view.day);
  return { histories, env, pieces: histories.flatMap((history) => piecesOf(history, env)) };
}

interface Made {
  readonly name: string;
  readonly taken: number;
  readonly failed: number;
  readonly open?: number;
  readonly on?: string;
  /** Facts of its graft line. */
  readonly facts?: string;
  readonly pair?: string;
  readonly method?: string;
}

const usual = "Pinus parviflora 'Kokonoe' / Pinus thunbergii";

/** A batch as log lines, grafted on a day and judged 200 days later. */
function batchLines({
  name,
  taken,
  failed,
  open = 0,
  on = '2026-10-10',
  facts = '',
  pair = usual,
  method = 'side-veneer',
}: Made): string {
  const all = taken + failed + open;
  const judged = new Date(Date.parse(on) + 200 * 86_400_000).toISOString().slice(0, 10);
  return [
    `batch ${name} ${pair} ${method}`,
    `${on} graft ${name}.1..${all} ${facts}`,
    taken > 0 ? `${judged} take ${name}.1..${taken}` : '',
    failed > 0 ? `${judged} fail ${name}.${taken + 1}..${taken + failed} dried` : '',
  ]
    .filter((line) => line)
    .join('\n');
}

/** Whole batches, one after another. */
export const batchesLog = (...batches: readonly Made[]): string => batches.map(batchLines).join('\n');
