import { readQuantity } from './quantity.ts';

/** `K26.1..12,14`: ranges with `..`, each turned the right way, no blanks. */
export function spelledSet(image: string): string {
  const dot = /\.(?=\d)/.exec(image)?.index ?? 0;
  const parts = image
    .slice(dot + 1)
    .split(/,[ \u00A0]?/)
    .map((part) => {
      const [low = '', high] = part.split(/[ \u00A0]?(?:\.{2,3}|…)[ \u00A0]?|[-–]/);
      if (high === undefined) return low;
      return Number(low) > Number(high) ? `${high}..${low}` : `${low}..${high}`;
    });
  return `${image.slice(0, dot)}.${parts.join(',')}`;
}

const figure = String.raw`[-−+]?\d+(?:[.,]\d+)?(?:\/\d+)?`;
const unit = '(?:mm|cm|in|%|°C|C|°F|F|min|mo|h|d|wk|y)?';
const interval = new RegExp(
  String.raw`^(${figure})[ \u00A0]?(${unit})(?:[ \u00A0]?\.\.[ \u00A0]?|[-–])(${figure})[ \u00A0]?(${unit})$`,
  'u',
);

/** `30..50%`: figures in rising order, the unit attached. */
export function spelledInterval(image: string): string {
  const parts = interval.exec(image);
  if (!parts) return attached(image).replace(/[ \u00A0]?\.\.[ \u00A0]?/, '..');
  const [, low = '', lowUnit = '', high = '', highUnit = ''] = parts;
  if (!readQuantity(image)?.backwards) return `${low}${lowUnit}..${high}${highUnit}`;
  // a unit that serves both ends goes behind the last figure; `%` serves no fraction
  const shared = lowUnit === highUnit || (!lowUnit !== !highUnit && !`${low}${high}`.includes('/'));
  return shared ? `${high}..${low}${highUnit || lowUnit}` : `${high}${highUnit}..${low}${lowUnit}`;
}

/** `10 %` is `10%`; the blank inside `1 1/4in` stays. */
export const attached = (image: string) => image.replace(/[ \u00A0](mm|cm|in|%|°C|C|°F|F|mo|h|d|wk|y)$/u, '$1');
