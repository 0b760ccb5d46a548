/** So many alike: lost on that day, or last seen alive on it. */
export interface Life {
  /** Days since the start, >= 0. */
  readonly day: number;
  readonly lost: boolean;
  readonly count: number;
}

export interface RiskDay {
  readonly day: number;
  /** Still watched just before that day's losses: those last seen alive on it count. */
  readonly atRisk: number;
  readonly lost: number;
}

/** The days on which something was lost, in order, with how many were at risk; losses come before censorings. */
export function riskDays(lives: readonly Life[]): RiskDay[] {
  const days = new Map<number, { lost: number; left: number }>();
  let atRisk = 0;
  for (const { day, lost, count } of lives) {
    const there = days.get(day) ?? { lost: 0, left: 0 };
    there.left += count;
    if (lost) there.lost += count;
    days.set(day, there);
    atRisk += count;
  }
  const rows: RiskDay[] = [];
  for (const [day, { lost, left }] of [...days].sort(([one], [other]) => one - other)) {
    if (lost > 0) rows.push({ day, atRisk, lost });
    atRisk -= left;
  }
  return rows;
}

/** How many were still watched just before a day's losses. */
export function atRiskOn(lives: readonly Life[], day: number): number {
  return lives.reduce((sum, life) => sum + (life.day >= day ? life.count : 0), 0);
}
