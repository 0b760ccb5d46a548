import type { BatchAnswer } from '#server/engine/answers.ts';
import type { BatchFigures } from '#server/engine/model.ts';
import { percent, rateText } from '#server/engine/say.ts';
import { openLog } from './open-log.ts';
import { type Asked, UsageError } from './options.ts';
import { asciiOf, columns, inert, type Page } from './print.ts';

/** How each batch did: counts, rate with its interval, worst and best case while some are to judge, causes of loss. */
export function stats(asked: Asked): number {
  const by = asked.values.by ?? 'batch';
  if (by !== 'batch') throw new UsageError('--by takes batch; other keys are not there yet.');
  const { answers, page, json, print } = openLog(asked);
  const batches = [...answers.all()].filter(({ figures }) => figures.grafted > 0).sort(byName);
  if (json) {
    const groups = batches.map(({ history, figures }) => ({
      key: { batch: history.batch.name },
      ...jsonFigures(figures),
    }));
    print(`${JSON.stringify({ groups }, null, 2)}\n`);
    return 0;
  }
  const text = tableText(batches, page);
  print(page.wide ? text : asciiOf(text));
  return 0;
}

const byName = (a: BatchAnswer, b: BatchAnswer) =>
  a.history.batch.name.localeCompare(b.history.batch.name, 'en', { numeric: true });

/** One batch alone: how it did, not how the next will (statistics, section 2); what needs several batches is null. */
function jsonFigures(figures: BatchFigures) {
  const { grafted, taken, failed, open, rate, low, high, causes, early, late, worst, best, outer } = figures;
  return {
    grafted,
    taken,
    failed,
    open,
    rate,
    low,
    high,
    causes,
    early,
    late,
    excluded: 0,
    worst,
    best,
    outer,
    expected: null,
    batches: 1,
    effective: null,
    spread: null,
    basis: 'batch',
  };
}

function tableText(batches: readonly BatchAnswer[], page: Page): string {
  const { color } = page;
  if (batches.length === 0) return 'No grafts on record yet.\n';
  const head = ['batch', 'made', 'taken', 'lost', 'to judge', 'how it did (95 % interval)'];
  const rows = batches.map(({ history, figures }) => [
    inert(history.batch.name),
    String(figures.grafted),
    String(figures.taken),
    String(figures.failed),
    String(figures.open),
    rateText(figures),
  ]);
  const [title = '', ...laid] = columns([head, ...rows], new Set([1, 2, 3, 4]));
  const out = [color.bold(title)];
  batches.forEach(({ figures }, i) => {
    out.push(laid[i] ?? '');
    for (const note of notesOf(figures)) out.push(color.gray(`  ${note}`));
  });
  out.push('', 'An interval says how sure a batch’s own rate is: how this batch did, not how', 'the next will.');
  return `${out.join('\n')}\n`;
}

function notesOf(figures: BatchFigures): string[] {
  const notes: string[] = [];
  const causes = Object.entries(figures.causes).sort((a, b) => b[1] - a[1]);
  if (causes.length > 0)
    notes.push(
      `lost: ${causes.map(([cause, count]) => `${count} ${cause === 'unknown' ? 'no cause noted' : inert(cause)}`).join(', ')}`,
    );
  if (figures.open > 0 && figures.taken + figures.failed > 0 && figures.worst !== null && figures.best !== null)
    notes.push(
      `with the ${figures.open} to judge: ${percent(figures.worst)} at worst, ${percent(figures.best)} at best`,
    );
  if (figures.early > 0) notes.push(`${figures.early} called taken too early to count on`);
  if (figures.late > 0) notes.push(`${figures.late} lost after they were called taken`);
  return notes;
}
