import type { Mend, Span } from '../finding.ts';

/** "Write `frost-free`": one piece of a line written anew. A menu shows at most 40 characters. */
export function writing(text: string, span: Span): Mend {
  const shown = text.length > 32 ? `${text.slice(0, 31)}…` : text;
  return { title: `Write \`${shown}\``, edits: [{ span, text }] };
}
