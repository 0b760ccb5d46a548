import type { Entry, Finding } from './model.ts';
import { byPlace } from './order.ts';

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
    merged.push(...found.sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end));
  }
  return merged;
}

/** Of several findings in one place the first speaks; where sets differ they are all named, and the sentence follows. */
function joined(findings: readonly Finding[]): Finding {
  const [first, ...others] = findings as [Finding, ...Finding[]];
  if (others.length === 0) return first;
  const sets = [...new Set(findings.flatMap(({ grafts }) => (grafts === undefined ? [] : [grafts])))];
  if (sets.length < 2) return first;
  const related = findings.flatMap((finding) => finding.related ?? []);
  const entries = new Set<Entry>();
  return {
    ...first,
    grafts: sets.join(' '),
    message: naming(first, sets),
    ...(related.length > 0
      ? { related: related.filter(({ entry }) => !entries.has(entry) && entries.add(entry)) }
      : {}),
    mends: findings.flatMap((finding) => finding.mends ?? []),
  };
}

const longest = 140;

/** The sentence of the first, with all sets where it names its own; too many are told by their number. */
function naming({ message, grafts }: Finding, sets: readonly string[]): string {
  if (grafts === undefined || !message.includes(grafts)) return message;
  const all = message.replace(grafts, sets.join(', '));
  if (all.length <= longest) return all;
  return message.replace(grafts, `${grafts} and ${sets.length - 1} more sets`);
}
