import type { Day, Taxon } from '#grammar/statement.ts';
import { wordIn } from './facts.ts';
import type { Entry } from './model.ts';
import { familyOf, groupOf, sameGenus } from './plant.ts';
import { shippedLines } from './practice.ts';
import { isPlant } from './practice-match.ts';

export type PairWord = 'good' | 'fair' | 'poor' | 'never';

/** How two plants do together, and the line that says so; without one it follows from their families. */
export interface PairVerdict {
  readonly word: PairWord;
  readonly scion: Taxon;
  readonly stock: Taxon;
  readonly entry?: Entry;
  readonly source?: string;
}

export interface Pairs {
  /** `undefined` where nothing is to say: the same genus, or plants whose family isn't told. */
  verdict(scion: Taxon, stock: Taxon, made: Day): PairVerdict | undefined;
}

interface PairRow {
  readonly entry: Entry;
  readonly scion: Taxon;
  readonly stock: Taxon;
  readonly word: PairWord;
  readonly since?: Day;
  readonly source?: string;
}

/** Of the log's `pair` lines, which overrule the shipped ones. */
export function pairsOf(lines: readonly Entry[]): Pairs {
  const own = byGenus(lines.flatMap(rowOf));
  const shipped = byGenus(shippedLines().flatMap(rowOf));
  return {
    verdict(scion, stock, made) {
      const row = closest(own, scion, stock, made) ?? closest(shipped, scion, stock, made);
      if (row) return { word: row.word, scion, stock, entry: row.entry, ...(row.source ? { source: row.source } : {}) };
      const word = byFamily(scion, stock);
      return word ? { word, scion, stock } : undefined;
    },
  };
}

/** The pairs of a graft: with an interstem two. */
export function pairedIn(plants: {
  readonly scion?: Taxon;
  readonly interstem?: Taxon;
  readonly stock?: Taxon;
}): [Taxon, Taxon][] {
  const chain = [plants.scion, plants.interstem, plants.stock].filter((taxon) => taxon !== undefined);
  if (!plants.scion || chain.length < 2) return [];
  return chain.slice(1).map((stock, i) => [chain[i] as Taxon, stock]);
}

/** Another genus of the same family does poorly, another family doesn't live. */
function byFamily(scion: Taxon, stock: Taxon): PairWord | undefined {
  if (sameGenus(scion, stock)) return undefined;
  // between two of the fourth group nothing is said: which families they are of isn't told
  if (groupOf(scion) === 'broadleaf' && groupOf(stock) === 'broadleaf') return undefined;
  return familyOf(scion) === familyOf(stock) ? 'poor' : 'never';
}

function rowOf(entry: Entry): PairRow[] {
  const statement = entry.line.statement;
  if (statement?.verb !== 'pair' || !statement.taxa?.stock) return [];
  const word = wordIn(statement.facts.find((fact) => fact.key === 'word')) as PairWord | undefined;
  const source = statement.facts.find((fact) => fact.key === 'source')?.value;
  if (!word) return [];
  const told = source?.kind === 'text' ? source.text : statement.remark?.text;
  return [
    {
      entry,
      scion: statement.taxa.scion,
      stock: statement.taxa.stock,
      word,
      ...(entry.line.date ? { since: entry.line.date.day } : {}),
      ...(told ? { source: told } : {}),
    },
  ];
}

const genusKey = (scion: Taxon, stock: Taxon) => `${scion.genus}/${stock.genus}`.toLowerCase();

function byGenus(rows: readonly PairRow[]): ReadonlyMap<string, readonly PairRow[]> {
  const map = new Map<string, PairRow[]>();
  for (const row of rows) {
    const key = genusKey(row.scion, row.stock);
    map.set(key, [...(map.get(key) ?? []), row]);
  }
  return map;
}

const detail = (taxon: Taxon) => (taxon.cultivar ? 2 : 0) + (taxon.epithet ? 1 : 0);

/** The row that says most about both plants; of two that say alike the later. */
function closest(
  rows: ReadonlyMap<string, readonly PairRow[]>,
  scion: Taxon,
  stock: Taxon,
  made: Day,
): PairRow | undefined {
  let best: PairRow | undefined;
  for (const row of rows.get(genusKey(scion, stock)) ?? []) {
    if (!isPlant(scion, row.scion) || !isPlant(stock, row.stock)) continue;
    if (row.since !== undefined && made < row.since) continue;
    if (!best || detail(row.scion) + detail(row.stock) >= detail(best.scion) + detail(best.stock)) best = row;
  }
  return best;
}
