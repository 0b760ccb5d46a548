import { contains } from '#grammar/values/intervals.ts';
import { amountOf, rangeOf } from '#server/engine/checks/case.ts';
import { faceWidth, shareCutThrough, strengthLeft } from '#server/engine/figures/cut-geometry.ts';
import type { Cohort, Entry } from '#server/engine/model.ts';
import { percent } from '#server/engine/say.ts';
import { subjectOf, thicknessOf } from '#server/engine/subject.ts';
import { cutDrawing, edgesMeet } from './cut-drawing.ts';
import type { FileView } from './feature.ts';
import { escaped } from './markdown.ts';

/** The cut in figures: how deep, how wide its face, how much is cut through, what strength is left, and the practice. */
export function cutHover({ root, theme }: FileView, entry: Entry, markdown: boolean): string[] {
  const set = entry.line.statement?.sets[0];
  if (!set) return [];
  const { history } = root.answers.of(set.name.key);
  const low = set.numbers?.[0];
  const cohort =
    history.cohorts.find((one) => one.made === entry || (low !== undefined && contains(one.numbers, low))) ??
    history.cohorts[0];
  if (!cohort) return [];
  const cut = rangeOf(amountOf(cohort.fact('cut')));
  const stock = rangeOf(amountOf(cohort.fact('stock')));
  const measure = amountOf(cohort.fact('cut'))?.measure;
  if (!cut || !measure) return [];
  const diameter = stock ? (stock.low + stock.high) / 2 : undefined;
  const middle = (cut.low + cut.high) / 2;
  const share = measure === 'share' ? middle : diameter === undefined ? undefined : middle / diameter;
  const lines: string[] = [];
  if (share === undefined)
    lines.push(`Cut ${middle}\u00A0mm deep; with the understock’s diameter (\`stock 9mm\`) its share is known.`);
  else if (diameter === undefined)
    lines.push(`Cut ${percent(share)} deep; with the understock’s diameter (\`stock 9mm\`) the face is known, too.`);
  else {
    const depth = share * diameter;
    const thick = thicknessOf(cohort.fact('scion'))?.high;
    lines.push(`**Cut ${percent(share)} of ${diameter}\u00A0mm: ${tenth(depth)}\u00A0mm deep**`);
    const drawing = markdown
      ? cutDrawing({ diameter, depth, ...(thick === undefined ? {} : { scion: thick }) }, theme)
      : undefined;
    if (drawing) lines.push(`![Cross-section of a ${diameter} mm branch cut ${tenth(depth)} mm deep](${drawing})`);
    const face = faceWidth(diameter, depth);
    if (face !== null) lines.push(`Face, at the bottom of the cut: ${tenth(face)}\u00A0mm wide`);
    if (face !== null && thick !== undefined)
      lines.push(
        `Scion of ${thick}\u00A0mm: ${thick > 1.3 * face ? 'wider than the face' : edgesMeet(face, thick) ? 'both edges can meet' : 'one edge meets, not both'}`,
      );
  }
  if (share !== undefined) {
    const through = shareCutThrough(1, share);
    const strength = strengthLeft(1, share);
    if (through !== null && strength !== null)
      lines.push(
        `Wood cut through: ${percent(through)}; strength left in bending: ${percent(strength)} of an uncut, ideal round branch`,
      );
  }
  return [...lines, ...practiceLine(root, cohort)];
}

const tenth = (figure: number) => Math.round(figure * 10) / 10;

function practiceLine(root: FileView['root'], cohort: Cohort): string[] {
  const { practice, log, lots } = root.answers.env;
  const [limit] = practice.limits('cut', subjectOf(cohort, cohort.madeDay, log, lots));
  if (!limit) return [];
  const ends = [limit.low, limit.high].map((end) => (end === undefined ? '' : percent(end)));
  const usual =
    limit.low === undefined
      ? `up to ${ends[1]}`
      : limit.high === undefined
        ? `from ${ends[0]}`
        : `${Math.round(limit.low * 100)} to ${ends[1]}`;
  return [`Practice: ${usual}${limit.row.source ? ` (${escaped(limit.row.source)})` : ''}`];
}
