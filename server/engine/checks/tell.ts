import type { Code } from '#grammar/codes.ts';
import { severities } from '#grammar/finding.ts';
import { normalize, size } from '#grammar/values/intervals.ts';
import type { Accepted } from '../accept.ts';
import { stayOn } from '../cover.ts';
import { graftsText, graftsWords } from '../grafts-text.ts';
import type { BatchHistory, Entry, Finding } from '../model.ts';
import { byHistory } from '../order.ts';
import type { CheckEnv, Seen } from './case.ts';
import { acceptMends, copyMend } from './mends.ts';

/** Joins what was seen of several sets on one line, what is accepted left out; the worst and heaviest gives its words. */
export function told(code: Code, all: readonly Seen[], history: BatchHistory, env: CheckEnv): Finding[] {
  const seen = all.filter((one) => !isAccepted(code, one, env));
  const byLine = new Map<Entry, Seen[]>();
  for (const one of onceOnly(seen)) byLine.set(one.entry, [...(byLine.get(one.entry) ?? []), one]);
  return [...byLine.entries()].flatMap(([entry, here]) => {
    const [first] = here.toSorted(
      (a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity) || (b.weight ?? 0) - (a.weight ?? 0),
    );
    if (!first) return [];
    const { batch } = history;
    const numbers = here.length === 1 ? first.numbers : normalize(here.flatMap((one) => one.numbers));
    const words = graftsWords(batch, numbers);
    const { severity, span, message, related, practice, mends } = first;
    if (severity === 'hint' && isDoubtful(entry)) return [];
    return {
      code,
      severity,
      entry,
      span,
      message: typeof message === 'string' ? message : message(words, size(numbers)),
      grafts: graftsText(batch, numbers),
      ...(related ? { related } : {}),
      ...(practice ? { practice } : {}),
      get mends() {
        const copy = practice ? copyMend(practice, env.log) : [];
        return [...(mends?.(numbers) ?? []), ...acceptMends(code, entry, batch, env.log), ...copy];
      },
    } satisfies Finding;
  });
}

function isAccepted(code: Code, { entry, day, cohort, numbers }: Seen, env: CheckEnv): boolean {
  const stay = stayOn(cohort, day);
  const { batch, method, group, scion } = cohort;
  const about: Accepted = {
    entry,
    day,
    batch: batch.key,
    numbers,
    ...(stay?.place === undefined ? {} : { place: stay.place }),
    ...(stay?.tree === undefined ? {} : { tree: stay.tree }),
    ...(method ? { method } : {}),
    ...(group ? { group } : {}),
    ...(scion ? { scion } : {}),
  };
  return env.accepts.covers(code, about);
}

/** Of findings that are said once a batch and place the first line keeps its own. */
function onceOnly(seen: readonly Seen[]): readonly Seen[] {
  const first = new Map<string, Entry>();
  for (const { once, entry } of seen) {
    if (once === undefined) continue;
    const known = first.get(once);
    if (!known || byHistory(entry, known) < 0) first.set(once, entry);
  }
  return first.size === 0 ? seen : seen.filter(({ once, entry }) => once === undefined || first.get(once) === entry);
}

/** That a fact is not noted can't be said of a line of which something can't be read: it may be just that. */
const isDoubtful = ({ line }: Entry) =>
  line.statement?.spare !== undefined || line.problems.some((problem) => problem.severity === 'error');
