import type { Problem } from '../finding.ts';
import type { Scope } from '../statement.ts';
import { type Key, keyRow } from '../vocabulary.ts';
import type { Draft } from './draft.ts';

/** Keys that say for whom or when, beside the rule itself. */
const conditionKeys: ReadonlySet<Key> = new Set<Key>([
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

/** A line of practice needs somebody it is for and a rule; work has its event and its days. */
export function readPractice(statement: Draft, text: string, problems: Problem[]): void {
  sideBySide(statement.scopes ?? [], text, problems);
  if ((statement.scopes ?? []).length === 0) {
    statement.idle = true;
    problems.push({
      code: 'missing-value',
      severity: 'error',
      span: statement.verbSpan,
      message: 'After `practice` comes for whom it is: `practice any`, `practice side-veneer`, `practice K26`.',
    });
  }
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

/** Scopes side by side must all hold, and no graft is two groups, plants or batches at once: a list says "either". */
function sideBySide(scopes: readonly Scope[], text: string, problems: Problem[]): void {
  for (const kind of ['group', 'method', 'plant', 'set'] as const) {
    const alike = scopes.filter((scope) => scope.kind === kind);
    for (let i = 1; i < alike.length; i++) {
      const [first, second] = [alike[i - 1] as Scope, alike[i] as Scope];
      if (first.kind === 'set' && second.kind === 'set' && first.set.name.key === second.set.name.key) continue;
      const listed = kind === 'group' || kind === 'method';
      const between = { start: first.span.end, end: second.span.start };
      const adjoining = /^[\s,]*$/.test(text.slice(between.start, between.end));
      problems.push({
        code: 'contradiction',
        severity: 'error',
        span: second.span,
        message: listed
          ? 'Both would have to hold, and no graft is both: joined by a comma without a blank they mean “or”.'
          : `A rule is for one ${kind === 'plant' ? kind : 'batch'}: give the second a line of its own.`,
        ...(listed && adjoining
          ? { mends: [{ title: 'Join them with a comma', edits: [{ span: between, text: ',' }] }] }
          : {}),
      });
    }
  }
}
