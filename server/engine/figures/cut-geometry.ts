/*
 * The section of an ideal round branch of diameter D with a segment of depth h cut away: lengths in mm, shares 0..1.
 * Segment areas, centroids and second moments as in any handbook of section properties (Young & Budynas, Roark's
 * Formulas for Stress and Strain, table of plane areas).
 */

/** Widest the cut face gets, at the bottom of the cut: c = 2 √(h (D − h)). `null` where the cut is not inside the branch. */
export function faceWidth(diameter: number, depth: number): number | null {
  return isInside(diameter, depth) ? 2 * Math.sqrt(depth * (diameter - depth)) : null;
}

/** Share of the wood cut through: the segment's area over the circle's. */
export function shareCutThrough(diameter: number, depth: number): number | null {
  return isInside(diameter, depth) ? segment(depth / diameter).area / Math.PI : null;
}

/**
 * Strength left in bending, of an uncut branch's: the least section modulus of what remains, about its own centroid,
 * over πD³/32.
 */
export function strengthLeft(diameter: number, depth: number): number | null {
  if (!isInside(diameter, depth)) return null;
  const { area, moment, inertia, edge } = segment(depth / diameter);
  const left = Math.PI - area;
  // where next to nothing is left, rounding leaves nothing, or less
  if (left <= 0) return 0;
  const centroid = -moment / left;
  const aboutOwn = Math.PI / 4 - inertia - left * centroid ** 2;
  const farthest = Math.max(1 + centroid, edge - centroid);
  return Math.max(0, aboutOwn / farthest / (Math.PI / 4));
}

/** Depth at which both edges of a face `width` wide meet those of the stock: h = (D − √(D² − w²)) / 2. */
export function depthForWidth(diameter: number, width: number): number | null {
  if (!(diameter > 0 && width > 0 && width <= diameter && Number.isFinite(diameter))) return null;
  // the same as (D − √(D² − w²)) / 2, without the difference of two large figures a narrow scion would give
  return width ** 2 / (2 * (diameter + Math.sqrt(diameter ** 2 - width ** 2)));
}

/** How much cambium meets, mm: the face's length along one edge, or along both. */
export function cambiumLength(faceLength: number, edges: 1 | 2): number | null {
  return faceLength > 0 && Number.isFinite(faceLength) ? edges * faceLength : null;
}

const isInside = (diameter: number, depth: number) =>
  Number.isFinite(diameter) && diameter > 0 && depth >= 0 && depth < diameter;

/** The segment above the chord, for a radius of 1: area, first and second moment about the circle's centre, chord height. */
function segment(share: number): { area: number; moment: number; inertia: number; edge: number } {
  const edge = 1 - 2 * share;
  const half = Math.acos(Math.max(-1, Math.min(1, edge)));
  const area = half - Math.sin(half) * Math.cos(half);
  return {
    area,
    moment: (2 / 3) * Math.sin(half) ** 3,
    inertia: half / 4 - Math.sin(4 * half) / 16,
    edge,
  };
}
