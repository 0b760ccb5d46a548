import { countText, numberText } from '../say.ts';

/** Small pieces of the sentences about figures, said alike wherever they stand. */

/** Under so many judged there is no percentage. */
export const few = 5;
export const whole = (share: number): string => String(Math.round(share * 100));
export const grafts = (count: number): string => countText(count, 'graft');
export const separate = (count: number): string =>
  count === 1 ? '1 separate graft' : `${numberText(count)} separate grafts`;
export const points = (share: number): string => countText(Math.abs(Math.round(share * 100)), 'point');
export const signed = (share: number): string => {
  const count = Math.round(share * 100);
  return count < 0 ? `${-count} fewer` : `${count} more`;
};
export const more = (share: number): string => {
  const count = Math.round(share * 100);
  return count === 0 ? 'as many' : `${points(share)} ${count < 0 ? 'fewer' : 'more'}`;
};
export const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
export const uncapital = (text: string): string => `${text.charAt(0).toLowerCase()}${text.slice(1)}`;
/** `a, b or c` */
export const listText = (words: readonly string[], last: string): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`;
