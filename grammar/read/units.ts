/** The figures as typed, with a unit that fits; a fraction is a share as it stands. */
export function withUnit(image: string, unit: string): string {
  const point = image.replace(/(\d),(\d)/g, '$1.$2');
  const size = /^([\d.]+)\s*[x×]\s*([\d.]+)$/.exec(point);
  if (size) return `${size[1]} x ${size[2]}${unit}`;
  const figures = point
    .split(/[ \u00A0]?\.\.[ \u00A0]?|(?<=\d)[-–](?=[-−+\d])/)
    .map((end) => /^[-−+]?[\d./]*/.exec(end)?.[0] ?? '');
  const [low = '', high] = figures;
  if (high === undefined) return `${low}${unit}`;
  if (!point.includes('/') && low && high) return `${low}..${high}${unit}`;
  return figures.map((end) => (end === '' || end.includes('/') ? end : `${end}${unit}`)).join('..');
}
