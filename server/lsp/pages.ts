import reference from '#grammar/generated/reference.md' with { type: 'text' };
import practice from '#server/engine/practice.graft' with { type: 'text' };

const texts: Readonly<Record<string, string>> = { 'practice.graft': practice, 'reference.md': reference };

/** A read-only page by its name; `null` where there is none. */
export function page(name: string): string | null {
  return Object.hasOwn(texts, name) ? (texts[name] ?? null) : null;
}
