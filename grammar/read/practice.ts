import type { Problem } from '../finding.ts';
import type { Statement } from '../statement.ts';
import { type Key, keyRow } from '../vocabulary.ts';

/** Keys that say for whom or when, beside the rule itself. */
export const conditionKeys: ReadonlySet<Key> = new Set<Key>([
  'size',
  'made',
  'collected',
  'age',
  'at',
  'lat',
  'potted',
  'after',
  'wait',
  'till',
  'within',
  'certain',
  'urgent',
  'source',
  'warning',
  'information',
  'frost-free',
  'shade',
  'wind-break',
  'humid',
  'heated',
  'mist',
  'accept',
  'photo',
  'by',
]);

/** A line of practice needs somebody it is for and a rule; work has its event and its days (decided row 98). */
export function readPractice(statement: Statement, problems: Problem[]): void {
  if ((statement.scopes ?? []).length === 0)
    problems.push({
      code: 'missing-value',
      severity: 'error',
      span: statement.verbSpan,
      message: 'After `practice` comes for whom it is: `practice any`, `practice side-veneer`, `practice K26`.',
    });
  const rules = statement.facts.filter((fact) => !conditionKeys.has(fact.key));
  const hasWork = statement.facts.find((fact) => fact.key === 'work' || fact.key === 'earliest');
  if (hasWork) {
    for (const fact of rules)
      if (fact !== hasWork)
        problems.push({
          code: 'contradiction',
          severity: 'error',
          span: fact.span,
          message: `A line with \`${hasWork.key}\` holds no other rule: give \`${fact.key}\` a line of its own.`,
        });
    for (const key of ['after', 'wait'] as const)
      if (!hasWork.lost && !statement.facts.some((fact) => fact.key === key))
        problems.push({
          code: 'missing-value',
          severity: 'error',
          span: hasWork.span,
          message: `Behind \`${hasWork.key}\` come event and days: \`${keyRow(hasWork.key).example}\`.`,
        });
  } else if (rules.length === 0 && (statement.scopes ?? []).length > 0 && problems.length === 0)
    problems.push({
      code: 'missing-value',
      severity: 'error',
      span: statement.verbSpan,
      message: 'A practice line holds a rule: `practice side-veneer  cut 30..50%`.',
    });
}
