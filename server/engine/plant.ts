import type { Taxon } from '#grammar/statement.ts';
import type { Group } from './model.ts';

/** Genera by practice group; a genus that is spelled and not listed is broadleaf. */
const genera: Record<Exclude<Group, 'broadleaf'>, readonly string[]> = {
  needle: ['Pinus', 'Picea', 'Abies', 'Cedrus', 'Pseudotsuga', 'Tsuga', 'Taxus', 'Sciadopitys', 'Podocarpus'],
  scale: [
    'Juniperus',
    'Cryptomeria',
    'Chamaecyparis',
    'Xanthocyparis',
    'Cupressus',
    'Thuja',
    'Platycladus',
    'Calocedrus',
    'Microbiota',
  ],
  shedding: ['Larix', 'Pseudolarix', 'Metasequoia', 'Taxodium', 'Ginkgo'],
};

/**
 * Families of the conifers, those of no group above among them, so that none of these is taken for a plant of another
 * family: after Farjon, A Handbook of the World's Conifers (2010), from memory.
 */
const families: Record<string, readonly string[]> = {
  Pinaceae: [
    ...['Pinus', 'Picea', 'Abies', 'Cedrus', 'Pseudotsuga', 'Tsuga', 'Larix', 'Pseudolarix'],
    ...['Cathaya', 'Keteleeria', 'Nothotsuga'],
  ],
  Cupressaceae: [
    ...genera.scale,
    ...['Metasequoia', 'Taxodium', 'Sequoia', 'Sequoiadendron', 'Cunninghamia', 'Taiwania', 'Glyptostrobus'],
    ...['Thujopsis', 'Tetraclinis', 'Callitris', 'Callitropsis', 'Cuprocyparis', 'Hesperocyparis', 'Fokienia'],
    ...['Fitzroya', 'Austrocedrus', 'Libocedrus', 'Pilgerodendron', 'Diselma', 'Widdringtonia', 'Actinostrobus'],
    ...['Athrotaxis', 'Neocallitropsis', 'Papuacedrus'],
  ],
  Taxaceae: ['Taxus', 'Torreya', 'Cephalotaxus', 'Amentotaxus', 'Pseudotaxus', 'Austrotaxus'],
  Sciadopityaceae: ['Sciadopitys'],
  Podocarpaceae: [
    ...['Podocarpus', 'Nageia', 'Afrocarpus', 'Dacrydium', 'Dacrycarpus', 'Halocarpus', 'Lagarostrobos'],
    ...['Microcachrys', 'Phyllocladus', 'Prumnopitys', 'Saxegothaea', 'Lepidothamnus', 'Retrophyllum'],
  ],
  Araucariaceae: ['Araucaria', 'Agathis', 'Wollemia'],
  Ginkgoaceae: ['Ginkgo'],
};

export const generaOf = (group: keyof typeof genera): readonly string[] => genera[group];

const byGenus = (table: Record<string, readonly string[]>): ReadonlyMap<string, string> =>
  new Map(Object.entries(table).flatMap(([name, list]) => list.map((genus) => [genus.toLowerCase(), name] as const)));

const groupOfGenus = byGenus(genera);
const familyOfGenus = byGenus(families);

/** The group a plant is treated by; nothing where no plant is told. */
export function groupOf(taxon: Pick<Taxon, 'genus'> | undefined): Group | undefined {
  if (!taxon) return undefined;
  return (groupOfGenus.get(taxon.genus.toLowerCase()) as Group | undefined) ?? 'broadleaf';
}

/** The family of a conifer; of all others nothing is said. */
export function familyOf(taxon: Pick<Taxon, 'genus'> | undefined): string | undefined {
  return taxon && familyOfGenus.get(taxon.genus.toLowerCase());
}

export function sameGenus(a: Pick<Taxon, 'genus'>, b: Pick<Taxon, 'genus'>): boolean {
  return a.genus.toLowerCase() === b.genus.toLowerCase();
}
