/** Control signs, and the sign for a letter that was lost when a file was read as what it isn't. */
const signs = /[\0-\x08\x0b-\x1f\x7f\uFFFD]/;

/** What is said of a piece with signs that are no text; `undefined` where it has none. */
export const noText = (image: string): string | undefined =>
  signs.test(image) ? 'Here stands a sign that is no text: take it out, or write the letter again.' : undefined;
