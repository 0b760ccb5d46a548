import { type Hover, MarkupKind } from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import type { Span } from '#grammar/finding.ts';
import { keyRow, verbRow } from '#grammar/vocabulary.ts';
import { entryAt, type FileView, inside } from './feature.ts';
import { cutHover } from './hover-cut.ts';
import { ruleHover } from './hover-rule.ts';
import { placeHover, setHover, weatherHover } from './hover-set.ts';
import { plainText } from './markdown.ts';
import { nameAt } from './name-at.ts';
import { toRange } from './to-protocol.ts';

export interface HoverOptions {
  readonly markdown: boolean;
}

/** On a set: what it went through, where it stands, what comes next. On `cut`: its geometry. On a word: what it says. */
export function hover(view: FileView, position: Position, options: HoverOptions): Hover | null {
  const entry = entryAt(view, position);
  const { statement } = entry?.line ?? {};
  if (!entry || !statement) return null;
  const { character } = position;
  const answer = (lines: readonly string[], span: Span): Hover | null =>
    lines.length === 0
      ? null
      : {
          contents: options.markdown
            ? { kind: MarkupKind.Markdown, value: lines.join('\n\n') }
            : { kind: MarkupKind.PlainText, value: lines.map(plainText).join('\n') },
          range: toRange(view.root, entry, span),
        };
  if (inside(statement.verbSpan, character)) return answer(wordLines(verbRow(statement.verb)), statement.verbSpan);
  const named = nameAt(entry, character);
  if (named && named.as !== 'hand') {
    const declared = view.root.log.names.declared(named.name.key);
    const lines =
      !declared || declared.kind === 'batch'
        ? setHover(view, named.name.key, named.numbers)
        : placeHover(view, declared);
    return answer(lines, named.name.span);
  }
  if (statement.verb === 'weather' && statement.remark && inside(statement.remark.span, character))
    return answer(weatherHover(view, entry), statement.remark.span);
  const rule = ruleHover(entry, statement, character);
  if (rule) return answer(rule.lines, rule.span);
  const fact = statement.facts.find(({ span }) => inside(span, character));
  if (!fact) return null;
  // in a rule there is no cut to draw
  const cut = fact.key === 'cut' && fact.value.kind === 'amount' && !fact.lost;
  const drawn = cut ? cutHover(view, entry, options.markdown) : [];
  if (drawn.length > 0) return answer(drawn, fact.span);
  return answer(wordLines(keyRow(fact.key)), fact.span);
}

/** `treat` and its like: the usual caution stands with the word (a label and the law say more than a log). */
const wordLines = ({ help, example }: { readonly help: string; readonly example: string }): string[] =>
  example ? [help, `\`${example}\``] : [help];
