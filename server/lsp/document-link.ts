import type { DocumentLink } from 'vscode-languageserver';
import type { Span } from '#grammar/finding.ts';
import type { Entry } from '#server/engine/model.ts';
import { namedPath, pathInLog } from '#server/engine/weather-path.ts';
import type { FileView, Slices } from './feature.ts';
import { toRange } from './to-protocol.ts';

/** Photos and weather files that lines name, inside the log's folder and nowhere else. Yields between many lines. */
export function* documentLink({ root, document }: FileView): Slices<DocumentLink[]> {
  const links: DocumentLink[] = [];
  for (const [i, entry] of document.entries.entries()) {
    if (i % 1000 === 999) yield;
    for (const { path, span, what } of namedFiles(entry)) {
      const file = pathInLog(entry, path);
      if (file === undefined) continue;
      links.push({ range: toRange(root, entry, span), target: root.uriBeside(file), tooltip: `Open the ${what}` });
    }
  }
  return links;
}

function* namedFiles(entry: Entry): Generator<{ readonly path: string; readonly span: Span; readonly what: string }> {
  const { statement, text } = entry.line;
  if (!statement) return;
  const station = namedPath(entry);
  if (station !== undefined && statement.remark)
    yield { path: station, span: unquoted(text, statement.remark.span), what: 'weather file' };
  for (const { key, value, valueSpan } of statement.facts)
    if (key === 'photo' && value.kind === 'text' && value.text !== '')
      yield { path: value.text, span: unquoted(text, valueSpan), what: 'photo' };
}

const unquoted = (text: string, { start, end }: Span): Span => ({
  start: /["“]/.test(text[start] ?? '') ? start + 1 : start,
  end: /["”]/.test(text[end - 1] ?? '') && end - start > 1 ? end - 1 : end,
});
