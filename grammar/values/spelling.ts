/** `K26.1..12,14`: ranges with `..`, each turned the right way, no blanks. */
export function spelledSet(image: string): string {
  const dot = /\.(?=\d)/.exec(image)?.index ?? 0;
  const parts = image
    .slice(dot + 1)
    .split(/,[ \u00A0]?/)
    .map((part) => {
      const [low = '', high] = part.split(/[ \u00A0]?\.\.[ \u00A0]?|[-–]/);
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
  const number = (text: string) => Number(text.replace('−', '-').replace(',', '.'));
  const turned = lowUnit === '' || lowUnit === highUnit || highUnit === '' ? number(low) > number(high) : false;
  if (!turned) return `${low}${lowUnit}..${high}${highUnit}`;
  const shared = highUnit || lowUnit;
  return `${high}..${low}${shared}`;
}

/** `10 %` is `10%`; the blank inside `1 1/4in` stays. */
export const attached = (image: string) => image.replace(/[ \u00A0](mm|cm|in|%|°C|C|°F|F|mo|h|d|wk|y)$/u, '$1');
