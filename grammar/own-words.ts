import type { LineEdit, Span } from './finding.ts';
import { keeping } from './same-line.ts';
import type { Fact, Line, Scope } from './statement.ts';
import { keyRow } from './vocabulary.ts';

/** A word of another country, a past form or a blank for a hyphen, and the notation's own word for it. */
export interface OwnWord extends LineEdit {
  readonly written: string;
}

/** Words of a line that are read and not the notation's own, each with its own; none where the line can't be read whole. */
export function ownWords(line: Line): OwnWord[] {
  const { statement, text } = line;
  if (!statement || line.problems.some(({ severity }) => severity === 'error')) return [];
  const found: OwnWord[] = [];
  const put = (span: Span, word: string) => {
    const written = text.slice(span.start, span.end);
    if (written !== word && word !== '') found.push({ span, text: word, written });
  };
  put(statement.verbSpan, statement.verb);
  for (const scope of statement.scopes ?? []) if (isWords(scope)) put(scope.span, scope.words.join(','));
  for (const fact of statement.facts) inFact(fact, text, put);
  return found.length > 0 && keeping(line, replaced(text, found)) ? found : [];
}

type Put = (span: Span, word: string) => void;

const isWords = (scope: Scope): scope is Extract<Scope, { words: readonly string[] }> => 'words' in scope;
const nameless: ReadonlySet<string> = new Set(['share', 'count', 'amount']);

function inFact({ key, value, span, valueSpan, lost }: Fact, text: string, put: Put): void {
  if (nameless.has(key) || lost) return;
  if (keyRow(key).keyless && value.kind === 'word') {
    put(valueSpan, value.word);
    return;
  }
  const alone = value.kind === 'flag';
  const written = text.slice(span.start, alone ? span.end : valueSpan.start).replace(/[\s:=]+$/u, '');
  put({ start: span.start, end: span.start + written.length }, key);
  if (value.kind === 'words') put(valueSpan, value.words.join(','));
  if (value.kind !== 'year') return;
  for (const { index } of text.slice(valueSpan.start, valueSpan.end).matchAll(/\bfall\b/g))
    put({ start: valueSpan.start + index, end: valueSpan.start + index + 4 }, 'autumn');
}

/** A text with edits made that don't overlap. */
export function replaced(text: string, edits: readonly LineEdit[]): string {
  return [...edits]
    .sort((a, b) => b.span.start - a.span.start)
    .reduce((all, { span, text: by }) => all.slice(0, span.start) + by + all.slice(span.end), text);
}
