import type { Fact, Statement, Taxa, Taxon } from '#grammar/statement.ts';
import type { Key, Method } from '#grammar/vocabulary.ts';
import type { BatchFacts } from './batch.ts';
import { factOf, namedIn, namesIn, wordIn } from './facts.ts';
import type { Log } from './log.ts';
import type { Batch, Entry, Finding, Found, Group } from './model.ts';
import { groupOf, sameGenus } from './plant.ts';

/** What all grafts of one `graft` line have from it: facts, plants, hands. Kept as long as they are, and with each line. */
export class Origin {
  readonly made: Entry;
  readonly statement: Statement;
  readonly method: Method | undefined;
  readonly scion: Taxon | undefined;
  readonly interstem: Taxon | undefined;
  readonly stock: Taxon | undefined;
  readonly group: Group | undefined;
  readonly hand: string | undefined;
  readonly potted: boolean;
  /** Key of the tree grafted on. */
  readonly tree: string | undefined;
  private readonly batch: Batch;

  constructor(made: Entry, statement: Statement, { batch, taxa: ofBatch }: BatchFacts, sources: Sources) {
    this.made = made;
    this.statement = statement;
    this.batch = batch;
    const taxa = statement.taxa ?? ofBatch?.taxa;
    const ownWood = [sources.lot, ...sources.from].find(
      (source) => source?.found.from === 'graft' && source.taxon,
    )?.taxon;
    const ownTree = sources.onto?.found.from === 'graft' ? sources.onto.taxon : undefined;
    const wood = [sources.lot, ...sources.from].find((source) => source?.taxon)?.taxon;
    // the line's plants, else its wood and its tree, else the batch's plants, wood and tree
    this.scion = statement.taxa?.scion ?? ownWood ?? taxa?.scion ?? wood;
    this.stock = statement.taxa?.stock ?? ownTree ?? taxa?.stock ?? sources.onto?.taxon;
    this.interstem = taxa?.interstem;
    this.method = wordIn(this.fact('method')?.fact) as Method | undefined;
    this.group = groupOf(this.scion);
    this.hand = handsOf(this.fact('by')?.fact);
    this.potted = !branchFacts.some((key) => this.fact(key));
    this.tree = sources.onto?.key;
  }

  fact(key: Key): Found | undefined {
    return factFor(key, this.made, this.statement, this.batch);
  }
}

const factFor = (key: Key, made: Entry, statement: Statement, batch: Batch): Found | undefined => {
  const own = factOf(statement, key);
  return own ? { fact: own, entry: made, from: 'graft' } : batch.fact(key);
};

/** What a graft line leans on, asked once when its history is read. */
interface Leaning {
  /** Names whose lines say what it is. */
  readonly depends: readonly string[];
  /** Places its wood was kept at: what is read there says how warm that was. */
  readonly stores: readonly string[];
  readonly findings: readonly Finding[];
}

export function originOf(
  made: Entry,
  statement: Statement,
  facts: BatchFacts,
  log: Log,
): { readonly origin: Origin; readonly leaning: Leaning } {
  const sources = plantSources((key) => factFor(key, made, statement, facts.batch), log);
  const taxa = statement.taxa ?? facts.taxa?.taxa;
  const told = statement.taxa ? made : facts.taxa?.entry;
  return {
    origin: new Origin(made, statement, facts, sources),
    leaning: {
      depends: dependsOf(sources),
      stores: sources.lot ? storesOf(sources.lot.key, log) : [],
      findings: taxa && told ? otherGenera(sources, taxa, told, statement) : [],
    },
  };
}

/** The same for a batch of which nothing is made yet: what its own line names and is. */
export function plannedOrigin({ batch, taxa }: BatchFacts, log: Log): Pick<Leaning, 'depends' | 'findings'> {
  const sources = plantSources((key) => batch.fact(key), log);
  return { depends: dependsOf(sources), findings: taxa ? otherGenera(sources, taxa.taxa, taxa.entry) : [] };
}

const dependsOf = ({ lot, onto, from }: Sources): string[] =>
  [lot, onto, ...from].flatMap((source) => source?.depends ?? []);

/** Where a lot was put and moved to. */
function storesOf(lot: string, log: Log): string[] {
  const moves = log.names.workOn(lot)?.all ?? [];
  const lines = [log.names.declared(lot)?.entry, ...moves].map((entry) => entry?.line.statement);
  return lines
    .flatMap((statement) => [namedIn(factOf(statement, 'in')), namedIn(factOf(statement, 'to'))])
    .flatMap((name) => (name ? [name.key] : []));
}

/** Any of them makes it a graft on a branch; without them it stands on a potted stem. */
const branchFacts: readonly Key[] = ['onto', 'branch', 'out', 'side'];

interface Source {
  readonly key: string;
  readonly found: Found;
  readonly taxon?: Taxon;
  /** The line that says which plant it is. */
  readonly told?: Entry;
  readonly depends: readonly string[];
}

interface Sources {
  readonly lot?: Source;
  readonly from: readonly Source[];
  readonly onto?: Source;
}

function plantSources(fact: (key: Key) => Found | undefined, log: Log): Sources {
  const [lot, from, onto] = [fact('lot'), fact('from'), fact('onto')];
  const lotKey = namedIn(lot?.fact)?.key;
  const ontoKey = namedIn(onto?.fact)?.key;
  return {
    ...(lot && lotKey !== undefined ? { lot: lotSource(lotKey, lot, log) } : {}),
    from: from ? namesIn(from.fact).map(({ key }) => treeSource(key, from, log)) : [],
    ...(onto && ontoKey !== undefined ? { onto: treeSource(ontoKey, onto, log) } : {}),
  };
}

function lotSource(key: string, found: Found, log: Log): Source {
  const declared = log.names.declared(key);
  if (declared?.kind !== 'lot') return { key, found, depends: [key] };
  const statement = declared.entry.line.statement;
  if (statement?.taxa) return { key, found, taxon: statement.taxa.scion, told: declared.entry, depends: [key] };
  const trees = namesIn(factOf(statement, 'from')).map((name) => treeSource(name.key, found, log));
  const told = trees.find((tree) => tree.taxon);
  return {
    key,
    found,
    ...(told?.taxon && told.told ? { taxon: told.taxon, told: told.told } : {}),
    depends: [key, ...trees.map((tree) => tree.key)],
  };
}

function treeSource(key: string, found: Found, log: Log): Source {
  const declared = log.names.declared(key);
  const taxon = declared?.kind === 'tree' ? declared.entry.line.statement?.taxa?.scion : undefined;
  return { key, found, ...(taxon && declared ? { taxon, told: declared.entry } : {}), depends: [key] };
}

function otherGenera({ lot, from, onto }: Sources, taxa: Taxa, told: Entry, statement?: Statement): Finding[] {
  const found = [
    ...[lot, ...from].map((source) => otherGenus(source, taxa.scion, told, statement)),
    otherGenus(onto, taxa.stock, told, statement),
  ];
  return found.filter((finding) => finding !== undefined);
}

/** Wood or a tree of another genus than the plants told: one of the two is a slip. A closer line overrules a wider one in silence. */
function otherGenus(
  source: Source | undefined,
  plant: Taxon | undefined,
  told: Entry,
  statement: Statement | undefined,
): Finding | undefined {
  if (!source?.taxon || !source.told || !plant || sameGenus(source.taxon, plant)) return undefined;
  const { fact, entry, from } = source.found;
  if (statement?.taxa && from !== 'graft') return undefined;
  return {
    code: 'contradiction',
    severity: 'error',
    entry,
    span: fact.valueSpan,
    message: `${source.taxon.genus} in \`${entry.line.text.slice(fact.span.start, fact.span.end)}\`, ${plant.genus} by the plants told: one of them is a slip.`,
    related: [{ entry: told, span: plant.span, message: `${plant.text} is told here.` }],
  };
}

/** Hands as one key, whatever order they are written in. */
function handsOf(fact: Fact | undefined): string | undefined {
  const keys = namesIn(fact).map((name) => name.key);
  return keys.length > 0 ? [...new Set(keys)].sort().join(',') : undefined;
}
