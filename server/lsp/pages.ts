import { codes } from '#grammar/codes.ts';
import reference from '#grammar/generated/reference.md' with { type: 'text' };
import practice from '#server/engine/practice.graft' with { type: 'text' };

/** A read-only page by its name: the shipped practice, the reference, or a code's page; `null` where there is none. */
export async function page(name: string): Promise<string | null> {
  if (name === 'practice.graft') return practice;
  if (name === 'reference.md') return reference;
  const code = name.replace(/\.md$/, '');
  if (!Object.hasOwn(codes, code)) return null;
  // every page is in the bundle: the pattern is the bundler's list of them
  const module: { readonly default: string } = await import(`../../grammar/pages/${code}.md`);
  return module.default;
}
