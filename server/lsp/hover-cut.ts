import { contains } from '#grammar/values/intervals.ts';
import { amountOf, rangeOf } from '#server/engine/checks/case.ts';
import { depthOf } from '#server/engine/checks/depth.ts';
import { mm, usual } from '#server/engine/checks/words.ts';
import {
  cambiumLength,
  depthForWidth,
  faceWidth,
  shareCutThrough,
  strengthLeft,
} from '#server/engine/figures/cut-geometry.ts';
import type { Cohort, Entry } from '#server/engine/model.ts';
import type { Limit, Range, Subject } from '#server/engine/practice.ts';
import { above, below } from '#server/engine/practice-match.ts';
import { percent } from '#server/engine/say.ts';
import { subjectOf } from '#server/engine/subject.ts';
import { cutDrawing } from './cut-drawing.ts';
import type { FileView } from './feature.ts';
import { escaped } from './markdown.ts';

/** The cut in figures: how deep, how wide its face, how much is cut through, what strength is left, and the practice. */
export function cutHover({ root, theme }: FileView, entry: Entry, markdown: boolean): string[] {
  const cohort = cohortOn(root, entry);
  const depth = cohort && depthOf(cohort);
  if (!cohort || !depth) return [];
  const { practice, log, lots } = root.answers.env;
  const subject = subjectOf(cohort, cohort.madeDay, log, lots);
  const share = depth.share && middle(depth.share);
  const limit = spokenOf(practice.limits('cut', subject), depth.share);
  if (share === undefined)
    return [
      `Cut ${depth.length ? mm(middle(depth.length)) : ''} deep; with the understock’s diameter (\`stock 9mm\`) its share is known.`,
      ...practiceLine(limit),
    ];
  const through = shareCutThrough(1, share);
  const strength = strengthLeft(1, share);
  const wood =
    through === null || strength === null
      ? []
      : [
          `Wood cut through: ${percent(through)}`,
          `Strength left in bending: ${percent(strength)} of an uncut, ideal round branch`,
        ];
  if (!depth.stock || !depth.length)
    return [
      `Cut ${percent(share)} deep; with the understock’s diameter (\`stock 9mm\`) the face is known, too.`,
      ...wood,
      ...practiceLine(limit),
    ];
  const [diameter, deep] = [middle(depth.stock), middle(depth.length)];
  const face = faceWidth(diameter, deep);
  const scion = scionOn(depth.length, depth.stock, subject, practice.limits('match-ratio', subject)[0]);
  const drawing = markdown ? cutDrawing({ diameter, depth: deep, ...scion }, theme) : undefined;
  return [
    `**Cut ${percent(share)} of ${mm(diameter)}: ${mm(deep)} deep**`,
    ...(drawing ? [drawing] : []),
    ...(face === null ? [] : [`Face, at the bottom of the cut: ${mm(face)} wide`]),
    ...wood,
    ...(scion ? [scionLine(scion, diameter, rangeOf(amountOf(cohort.fact('long'))))] : []),
    ...practiceLine(limit),
  ];
}

/** Of a warning's and an information's interval the one a finding would speak of; inside both, the wider one. */
function spokenOf(limits: readonly Limit[], share: Range | undefined): Limit | undefined {
  const broken = limits.find(({ amount }) => share && (below(share.low, amount) || above(share.high, amount)));
  return broken ?? limits[0];
}

const middle = ({ low, high }: Range): number => (low + high) / 2;

/** The grafts a line speaks of, where one figure is asked: those it made, else those with its first number. */
export function cohortOn(root: FileView['root'], entry: Entry): Cohort | undefined {
  const set = entry.line.statement?.sets[0];
  if (!set) return undefined;
  const { cohorts } = root.answers.of(set.name.key).history;
  const low = set.numbers?.[0];
  return cohorts.find((one) => one.made === entry || (low !== undefined && contains(one.numbers, low))) ?? cohorts[0];
}

interface ScionOn {
  readonly scion: number;
  readonly meets: 'one' | 'both';
}

/** Both edges meet where scion and face are as wide as practice asks, all ends of what was noted; else one. */
function scionOn(depth: Range, stock: Range, { thick }: Subject, limit: Limit | undefined): ScionOn | undefined {
  if (!thick || !limit) return undefined;
  const ends = (range: Range) => [range.low, range.high];
  const faces = ends(depth).flatMap((deep) => ends(stock).map((wide) => faceWidth(wide, deep) ?? 0));
  const { low = 0, high = Number.POSITIVE_INFINITY } = limit;
  const fits = faces.every((face) => ends(thick).every((wide) => wide >= low * face && wide <= high * face));
  return { scion: middle(thick), meets: fits ? 'both' : 'one' };
}

function scionLine({ scion, meets }: ScionOn, diameter: number, long: Range | undefined): string {
  const cambium = cambiumLength(long ? middle(long) : Number.NaN, meets === 'both' ? 2 : 1);
  const along = cambium === null ? '' : `, ${mm(cambium)} of cambium`;
  if (meets === 'both') return `Scion of ${mm(scion)}: both edges can meet${along}`;
  const both = depthForWidth(diameter, scion);
  return `Scion of ${mm(scion)}: one edge meets${along}; ${both === null ? 'it is wider than the branch' : `both would at ${mm(both)} deep`}`;
}

function practiceLine(limit: Limit | undefined): string[] {
  if (!limit) return [];
  const { source } = limit.row;
  const held = usual(limit, limit.amount.measure === 'share' ? percent : mm);
  return [`Practice: ${held}${source ? ` (${escaped(source)})` : ''}`];
}
