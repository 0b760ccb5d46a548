import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver';
import { isoDay } from '#grammar/values/date.ts';
import type { Verb } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import type { FileView } from './feature.ts';

const kinds: Partial<Record<Verb, SymbolKind>> = {
  site: SymbolKind.Namespace,
  place: SymbolKind.Field,
  tree: SymbolKind.Object,
  batch: SymbolKind.Class,
  collect: SymbolKind.Package,
};

/** The outline: what is declared, and the days, each with the lines under it. */
export function documentSymbol({ document }: FileView): DocumentSymbol[] {
  const symbols: DocumentSymbol[] = [];
  let day: DocumentSymbol | undefined;
  document.entries.forEach((entry, line) => {
    const { statement } = entry.line;
    const whole = { start: { line, character: 0 }, end: { line, character: entry.line.text.length } };
    if (!statement && entry.line.date) {
      day = {
        name: isoDay(entry.line.date.day),
        kind: SymbolKind.Event,
        range: whole,
        selectionRange: whole,
        children: [],
      };
      symbols.push(day);
      return;
    }
    if (!statement) return;
    const kind = kinds[statement.verb];
    const set = statement.sets[0];
    if (kind && set) {
      const selection = {
        start: { line, character: set.name.span.start },
        end: { line, character: set.name.span.end },
      };
      const detail = statement.taxa
        ? [statement.taxa.scion, statement.taxa.stock].flatMap((taxon) => (taxon ? [taxon.text] : [])).join(' / ')
        : statement.verb;
      symbols.push({ name: set.name.text, detail, kind, range: whole, selectionRange: selection });
    } else if (day && !entry.line.date) {
      day.range = { start: day.range.start, end: whole.end };
      day.children?.push({ name: lineName(entry), kind: SymbolKind.Event, range: whole, selectionRange: whole });
    }
  });
  return symbols;
}

const lineName = (entry: Entry) => entry.line.text.trim().replace(/\s+/g, ' ').slice(0, 60) || '·';
