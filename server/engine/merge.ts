import type { Entry, Finding } from './model.ts';
import { byCodePoint, byPlace } from './order.ts';
import { countText } from './say.ts';

/**
 * One finding a line, code and place in it, whatever number of batches it was found in: the sets are named together,
 * and so are the lines it clashes with. Sorted by file, line and column.
 */
export function merge(findings: Iterable<Finding>): Finding[] {
  const byLine = new Map<Entry, Map<string, Finding[]>>();
  for (const finding of findings) {
    let codes = byLine.get(finding.entry);
    if (!codes) {
      codes = new Map();
      byLine.set(finding.entry, codes);
    }
    const key = `${finding.code} ${finding.span.start} ${finding.span.end}`;
    codes.set(key, [...(codes.get(key) ?? []), finding]);
  }
  const merged: Finding[] = [];
  for (const entry of [...byLine.keys()].sort(byPlace)) {
    const found = [...(byLine.get(entry)?.values() ?? [])].map(joined);
    for (const one of found.sort(byColumn)) merged.push(one);
  }
  return merged;
}

/** By name: which batch was looked at first depends on the edits that came before. */
const byGrafts = (a: Finding, b: Finding) => (a.grafts ?? '').localeCompare(b.grafts ?? '', 'en', { numeric: true });

/** By code in one place: in what order they were found is the edits' doing. */
const byColumn = (a: Finding, b: Finding) =>
  a.span.start - b.span.start || a.span.end - b.span.end || byCodePoint(a.code, b.code);

/** Of several findings in one place the first speaks; where sets differ they are all named, and the sentence follows. */
function joined(inAnyOrder: readonly Finding[]): Finding {
  if (inAnyOrder.length === 1) return inAnyOrder[0] as Finding;
  const findings = [...inAnyOrder].sort(byGrafts);
  const [first] = findings as [Finding, ...Finding[]];
  const sets = [...new Set(findings.flatMap(({ grafts }) => (grafts === undefined ? [] : [grafts])))];
  if (sets.length < 2) return first;
  const related = findings.flatMap((finding) => finding.related ?? []);
  const entries = new Set<Entry>();
  return {
    ...first,
    grafts: sets.join(' '),
    message: naming(findings, sets),
    ...(related.length > 0
      ? { related: related.filter(({ entry }) => !entries.has(entry) && entries.add(entry)) }
      : {}),
    mends: findings.flatMap((finding) => finding.mends ?? []),
  };
}

const longest = 140;

/** One sentence for all sets where it says the same of each, else that of the first with the others told behind it. */
function naming(findings: readonly Finding[], sets: readonly string[]): string {
  const { message, grafts } = findings[0] as Finding;
  if (grafts === undefined) return message;
  const alike = findings.every(
    (finding) => finding.grafts !== undefined && without(finding) === without(findings[0] as Finding),
  );
  const [all, few] =
    alike && message.includes(grafts)
      ? [
          message.replace(grafts, sets.join(', ')),
          message.replace(grafts, `${grafts} and ${countText(sets.length - 1, 'more set')}`),
        ]
      : [
          behind(message, `the like holds for ${sets.slice(1).join(', ')}`),
          behind(message, `the like holds for ${countText(sets.length - 1, 'more set')}`),
        ];
  return all.length <= longest ? all : few;
}

const without = ({ message, grafts }: Finding): string =>
  grafts === undefined ? message : message.replace(grafts, '');
const behind = (message: string, more: string): string => `${message.replace(/\.$/, '')}; ${more}.`;
