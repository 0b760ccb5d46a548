import { SymbolKind, type WorkspaceSymbol } from 'vscode-languageserver';
import { readGrafts } from '#grammar/values/graft-set.ts';
import type { Declared, Entry, NameKind } from '#server/engine/model.ts';
import type { Root } from '#server/workspace/root.ts';
import { madeBy } from './definition.ts';
import { toLocation } from './to-protocol.ts';

/** More than anybody reads; the next letter typed finds the rest. */
const most = 500;

const kinds: Readonly<Record<NameKind, SymbolKind>> = {
  batch: SymbolKind.Class,
  place: SymbolKind.Field,
  tree: SymbolKind.Object,
  lot: SymbolKind.Package,
};

/** Batches, places, trees and lots of all logs by a part of their name, with what they are; a graft by its number. */
export function workspaceSymbol(roots: readonly Root[], query: string): WorkspaceSymbol[] {
  const asked = query.trim().normalize('NFC').toLowerCase();
  const found: WorkspaceSymbol[] = [];
  for (const root of roots) {
    found.push(...graftsNamed(root, asked));
    for (const declared of root.log.names.allDeclared()) {
      if (found.length >= most) return found;
      if (isSpelledIn(asked, declared.key)) found.push(symbolOf(root, declared));
    }
  }
  return found;
}

/** Its letters in their order, others between them: `k6` finds K26. */
function isSpelledIn(query: string, key: string): boolean {
  let at = 0;
  for (const letter of query) {
    at = key.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}

function symbolOf(root: Root, { name, kind, entry }: Declared): WorkspaceSymbol {
  const { statement } = entry.line;
  const plants = [statement?.taxa?.scion, statement?.taxa?.stock].flatMap((taxon) => (taxon ? [taxon.text] : []));
  return {
    name,
    kind: kinds[kind],
    containerName: [kind, plants.join(' / ')].filter(Boolean).join(' · '),
    location: toLocation(root, entry, statement?.sets[0]?.name.span ?? { start: 0, end: 0 }),
  };
}

function graftsNamed(root: Root, asked: string): WorkspaceSymbol[] {
  if (!/^\p{L}[\p{L}\p{M}\p{N}_-]*\.\d+$/u.test(asked)) return [];
  const { name, numbers } = readGrafts(asked);
  return madeBy(root, name, numbers).map((entry: Entry) => {
    const set = entry.line.statement?.sets[0];
    return {
      name: `${set?.name.text ?? name}.${numbers[0]}`,
      kind: SymbolKind.Event,
      containerName: 'graft',
      location: toLocation(root, entry, set?.span ?? { start: 0, end: 0 }),
    };
  });
}
