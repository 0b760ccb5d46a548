import { UsageError } from './options.ts';

type Given = string | boolean | undefined;

/** A whole number between two. */
export function readWhole(
  option: string,
  given: Given,
  { from, to, example }: { readonly from: number; readonly to: number; readonly example: number },
): number {
  const figure = typeof given === 'string' && /^\d{1,10}$/.test(given.trim()) ? Number(given) : Number.NaN;
  if (!(figure >= from && figure <= to))
    throw new UsageError(`--${option} asks for a whole number, ${from} to ${to}: --${option} ${example}.`);
  return figure;
}

/** How sure one wants to be: a share or a percentage, `0.9` or `90%`. */
export function readConfidence(given: Given): number {
  const [, figure, percent] = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(String(given).trim()) ?? [];
  const share = percent || Number(figure) > 1 ? Number(figure) / 100 : Number(figure);
  if (!(share >= 0.5 && share < 0.9995))
    throw new UsageError('--confidence says how sure you want to be, 50 to 99.9 %: --confidence 90%.');
  return share;
}
