import { type DocumentSymbol, type Range, SymbolKind } from 'vscode-languageserver';
import { beginsDay } from '#grammar/carry.ts';
import type { Day, SetRef, Statement } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import { type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import type { FileView, Slices } from './feature.ts';

const kinds: Partial<Record<Verb, SymbolKind>> = {
  site: SymbolKind.Namespace,
  place: SymbolKind.Field,
  tree: SymbolKind.Object,
  batch: SymbolKind.Class,
  collect: SymbolKind.Package,
};

/** The editor asks with every key: of longer files it gets the days without their lines. */
const longest = 5_000;

/**
 * The outline: what is declared, and the days, each with the lines under it; lines that have their days themselves, one
 * below the other, are a day, too. Yields between many lines.
 */
export function* documentSymbol({ document }: FileView): Slices<DocumentSymbol[]> {
  const symbols: DocumentSymbol[] = [];
  let day: DayOutline | undefined;
  /** The day is carried down from a line of its own; else its lines say it each. */
  let carried = false;
  for (const [line, entry] of document.entries.entries()) {
    if (line % 500 === 499) yield;
    const { statement, date } = entry.line;
    const whole = { start: { line, character: 0 }, end: { line, character: entry.line.text.length } };
    if (beginsDay(entry.line)) {
      day = date && outlineOf(date.day, whole);
      carried = date !== undefined;
      if (day) symbols.push(day);
      continue;
    }
    if (!statement) continue;
    const kind = kinds[statement.verb];
    const set = statement.sets[0];
    if (kind && set) symbols.push(declaredBy(statement, set, kind, whole));
    else if (verbRow(statement.verb).kind === 'work') {
      if (date && !carried && day?.name !== isoDay(date.day)) {
        day = outlineOf(date.day, whole);
        symbols.push(day);
      }
      if (!day) continue;
      day.range = { start: day.range.start, end: whole.end };
      if (document.length > longest) continue;
      day.children.push({ name: lineName(entry), kind: SymbolKind.Event, range: whole, selectionRange: whole });
    }
  }
  return symbols;
}

type DayOutline = DocumentSymbol & { readonly children: DocumentSymbol[] };

const outlineOf = (day: Day, range: Range): DayOutline => ({
  name: isoDay(day),
  kind: SymbolKind.Event,
  range,
  selectionRange: range,
  children: [],
});

function declaredBy({ verb, taxa }: Statement, { name }: SetRef, kind: SymbolKind, range: Range): DocumentSymbol {
  const { line } = range.start;
  const plants = [taxa?.scion, taxa?.stock].flatMap((taxon) => (taxon ? [taxon.text] : [])).join(' / ');
  return {
    name: name.text,
    detail: plants || verb,
    kind,
    range,
    selectionRange: { start: { line, character: name.span.start }, end: { line, character: name.span.end } },
  };
}

const lineName = (entry: Entry) => entry.line.text.trim().replace(/\s+/g, ' ').slice(0, 60) || '·';
