import { codes, isCode } from '#grammar/codes.ts';
import { scopeOffers } from '#grammar/completion-data.ts';
import type { Span } from '#grammar/finding.ts';
import type { Statement } from '#grammar/statement.ts';
import { groups } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import { generaOf } from '#server/engine/plant.ts';
import { codeAt } from './definition.ts';
import { inside } from './feature.ts';

/** For whom a rule is, and what the code of a finding stands for. */
export function ruleHover(
  entry: Entry,
  statement: Statement,
  character: number,
): { readonly lines: readonly string[]; readonly span: Span } | undefined {
  const { verb, scopes = [] } = statement;
  const { text } = entry.line;
  const code = codeAt(entry, statement, character);
  if (code && isCode(code.text)) return { lines: [`\`${code.text}\`: ${codes[code.text].title}.`], span: code.span };
  const scope = scopes.find(({ span }) => inside(span, character));
  if (!scope || scope.kind === 'plant' || scope.kind === 'set') return undefined;
  for (const { 0: word, index } of text.slice(scope.span.start, scope.span.end).matchAll(/[^\s,]+/g)) {
    const span = { start: scope.span.start + index, end: scope.span.start + index + word.length };
    if (inside(span, character)) return { lines: scopeLines(verb, word), span };
  }
  return undefined;
}

function scopeLines(verb: Statement['verb'], word: string): string[] {
  const offer = scopeOffers(verb).find(({ label }) => label === word);
  const group = groups.find((one) => one === word);
  return [...(offer ? [offer.help] : []), ...(group ? [generaLine(group)] : [])];
}

function generaLine(group: (typeof groups)[number]): string {
  if (group === 'broadleaf') return 'All genera that are in no other group.';
  return `${generaOf(group).join(', ')}.`;
}
