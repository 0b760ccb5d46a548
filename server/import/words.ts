import type { causes } from '#grammar/vocabulary.ts';

export type Cause = (typeof causes)[number];

/** A cell about how a graft did, as far as it can be read. */
export type Verdict =
  | { readonly kind: 'yes' | 'no' | 'open' }
  /** Lost, how many of them if said, in the sheet's own words beside ours. */
  | { readonly kind: 'cause'; readonly losses: readonly Loss[] }
  | { readonly kind: 'count'; readonly count: number };

export interface Loss {
  readonly count?: number;
  readonly cause: Cause;
  /** The sheet's words, where they aren't ours. */
  readonly own?: string;
}

const lists = (rows: Readonly<Record<string, string>>) =>
  new Map(Object.entries(rows).flatMap(([meaning, words]) => words.split(' ').map((word) => [word, meaning] as const)));

const marks = lists({
  yes: 'yes y x ✓ ✔ ☑ + 1 true t ok taken take took alive living live lives success successful succeeded good survived',
  no: 'no n 0 false f ✗ ✘ ☒ failed fail lost loss dead died failure unsuccessful',
  open: '- – — ? ?? n/a na tbd pending waiting open unclear unknown unsure unjudged tbc wait',
});

const causeWords = lists({
  frozen: 'frozen froze frost frosted freeze freezing cold winter winterkill winterkilled',
  dried: 'dried dry desiccated desiccation drought shrivelled shriveled withered wilted dehydrated',
  rotted: 'rotted rot rotten mould mold mouldy moldy fungus fungal botrytis damped wet',
  moved: 'moved shifted slipped knocked bumped dislodged',
  broken: 'broken broke snapped wind storm',
  girdled: 'girdled girdling girdle strangled constricted',
  rejected: 'rejected rejection incompatible incompatibility',
  pest: 'pest pests insect insects aphid aphids slug slugs snail snails mouse mice vole voles deer rabbit rabbits mites beetle weevil',
  stock: 'stock rootstock understock',
  unknown: 'unknown unsure unexplained',
});

/** Words a cause may be said with, and that change nothing. */
const small = new Set(
  'out up off by to of the a and in from back due because was it heat tips scion rootstock stock understock died dead'.split(
    ' ',
  ),
);

/** Longer cells are sentences: they are no word of these. */
const longest = 100;

/** Yes, no, not judged yet, a count, or a cause of loss; `undefined` where a reader would have to guess. */
export function readVerdict(cell: string): Verdict | undefined {
  if (cell.length > longest) return undefined;
  const text = cell
    .trim()
    .toLowerCase()
    .replace(/[.!]+$/, '');
  const mark = marks.get(text) ?? marks.get(text.replace(/^not (?=taken|yet|judged)/, ''));
  if (/^not (taken|alive|successful)$/.test(text)) return { kind: 'no' };
  if (/^(not (yet|judged)|too early|to judge)( .*)?$/.test(text)) return { kind: 'open' };
  if (mark === 'yes' || mark === 'no' || mark === 'open') return { kind: mark };
  const count = readCount(text);
  if (count !== undefined) return { kind: 'count', count };
  const lost = /^(?:no|n|failed|lost|dead|died)\b[\s:,(–-]+/i.exec(cell.trim())?.[0] ?? '';
  const losses = readLosses(cell.trim().slice(lost.length).replace(/\)$/, ''));
  // “dry” or “moved” alone may be what was seen, not the end of the graft
  const sure =
    lost !== '' ||
    losses?.every(({ cause, own }) => (own?.toLowerCase() ?? cause).split(/\P{L}+/u).some((word) => endings.has(word)));
  return losses && sure ? { kind: 'cause', losses } : undefined;
}

const endings = new Set(
  'frozen froze dried desiccated shrivelled shriveled withered rotted rotten rot botrytis broken girdled strangled rejected incompatible'.split(
    ' ',
  ),
);

/** `dried`, `botrytis`, `3 dried, 2 frozen`. */
export function readLosses(cell: string): readonly Loss[] | undefined {
  if (cell.length > longest) return undefined;
  const parts = cell.split(/\s*[,;+]\s*/).map(readLoss);
  const losses = parts.filter((loss) => loss !== undefined);
  if (losses.length === 0 || losses.length < parts.length) return undefined;
  return losses.length > 1 && losses.some(({ count }) => count === undefined) ? undefined : losses;
}

function readLoss(part: string): Loss | undefined {
  const [, figure, , words = ''] = /^(\d{1,6})(\s*[x×]?\s+)?(.*)$/i.exec(part) ?? [undefined, undefined, '', part];
  const own = words.trim();
  const found = own
    .toLowerCase()
    .split(/[^\p{L}]+/u)
    .filter(Boolean);
  const heavy = found.filter((word) => !small.has(word) || found.length === 1);
  const meanings = new Set(heavy.map((word) => causeWords.get(word)));
  // “rootstock died”: the small words alone say it
  if (heavy.length === 0 && found.some((word) => causeWords.get(word) === 'stock')) meanings.add('stock');
  const [cause] = meanings;
  if (meanings.size !== 1 || cause === undefined) return undefined;
  return {
    cause: cause as Cause,
    ...(figure ? { count: Number(figure) } : {}),
    ...(own.toLowerCase() === cause ? {} : { own }),
  };
}

/** A whole number of grafts: `40`, `x40`, `40 pcs`, `1,200`, `12.0`. */
export function readCount(cell: string): number | undefined {
  if (cell.length > longest) return undefined;
  const text = cell.trim().toLowerCase();
  const plain = /^(?:x|×)?\s?(\d{1,7})(?:[.,]0+)?(?:\s?(?:pcs?|pieces|grafts?|x|×|no|plants?|scions?)\.?)?$/.exec(text);
  if (plain) return Number(plain[1]);
  return /^\d{1,3}(,\d{3})+$/.test(text) ? Number(text.replaceAll(',', '')) : undefined;
}

/** Cells that say there is nothing. */
export const isBlank = (cell: string): boolean => /^(?:[-–—]{1,9}|n\/a|#n\/a|nil|none)?$/i.test(cell.trim());

const methodWords = lists({
  'side-veneer': 'side-veneer veneer side-veneer-graft sideveneer',
  'whip-and-tongue': 'whip-and-tongue whip-tongue w&t whip&tongue wat',
  whip: 'whip whip-graft',
  cleft: 'cleft',
  saddle: 'saddle',
  splice: 'splice',
  bark: 'bark rind crown',
  approach: 'approach inarch inarching',
  thread: 'thread',
  'chip-bud': 'chip-bud chip chip-budding',
  't-bud': 't-bud t-budding shield shield-bud',
  side: 'side',
});

const choiceWords = lists({
  ripened: 'ripened ripe hard hardwood dormant',
  soft: 'soft softwood',
  under: 'under below bottom underside',
  top: 'top above',
  left: 'left',
  right: 'right',
});

/** A method or another choice of the notation, by the words sheets have for it. */
export function readChoice(key: string, cell: string): string {
  const word = cell
    .trim()
    .toLowerCase()
    .replace(/\s*&\s*/g, '&')
    .replace(/[\s_-]+/g, '-');
  if (key !== 'method') return choiceWords.get(word) ?? word;
  return methodWords.get(word) ?? methodWords.get(word.replace(/-?graft(ing|ed)?$/, '')) ?? word;
}
