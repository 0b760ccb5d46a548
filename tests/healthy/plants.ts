import type { Draw } from './draw.ts';

export type Group = 'needle' | 'scale' | 'shedding' | 'broadleaf';
export const groups: readonly Group[] = ['needle', 'scale', 'shedding', 'broadleaf'];

export const detachedMethods = [
  ...['side-veneer', 'side', 'cleft', 'whip', 'whip-and-tongue', 'splice', 'saddle', 'bark'],
] as const;
export const buds = ['chip-bud', 't-bud'] as const;
export const fedMethods = ['approach', 'thread'] as const;
export const methods: readonly string[] = [...detachedMethods, ...buds, ...fedMethods];

export const isIn = (list: readonly string[], word: string): boolean => list.includes(word);
export const isSide = (method: string): boolean => method === 'side' || method === 'side-veneer';

/** Genera of each practice group, with species the trade grafts; cultivars are made up. */
const species: Readonly<Record<Group, Readonly<Record<string, readonly string[]>>>> = {
  needle: {
    Pinus: ['parviflora', 'thunbergii', 'sylvestris', 'strobus', 'mugo'],
    Picea: ['abies', 'pungens', 'glauca'],
    Abies: ['koreana', 'nordmanniana', 'concolor'],
    Cedrus: ['libani', 'deodara'],
    Pseudotsuga: ['menziesii'],
    Tsuga: ['canadensis'],
    Taxus: ['baccata', 'cuspidata'],
    Sciadopitys: ['verticillata'],
    Podocarpus: ['macrophyllus'],
  },
  scale: {
    Juniperus: ['chinensis', 'communis', 'virginiana'],
    Cryptomeria: ['japonica'],
    Chamaecyparis: ['obtusa', 'lawsoniana'],
    Xanthocyparis: ['nootkatensis'],
    Cupressus: ['sempervirens', 'arizonica'],
    Thuja: ['plicata', 'occidentalis'],
    Platycladus: ['orientalis'],
    Calocedrus: ['decurrens'],
    Microbiota: ['decussata'],
  },
  shedding: {
    Larix: ['kaempferi', 'decidua'],
    Pseudolarix: ['amabilis'],
    Metasequoia: ['glyptostroboides'],
    Taxodium: ['distichum'],
    Ginkgo: ['biloba'],
  },
  broadleaf: {
    Acer: ['palmatum', 'japonicum'],
    Malus: ['domestica', 'sylvestris'],
    Prunus: ['serrulata', 'avium'],
    Fagus: ['sylvatica'],
    Quercus: ['robur'],
    Magnolia: ['kobus'],
    Syringa: ['vulgaris'],
  },
};
const cultivars = ["'Kokonoe'", "'Drumlin Gold'", "'Lane's Dwarf'", "'Winter Gold'", '', ''];

/** Other genera under a scion of which nothing is said. */
const liveTogether: Readonly<Record<string, readonly string[]>> = {
  Chamaecyparis: ['Thuja occidentalis', 'Platycladus orientalis'],
  Xanthocyparis: ['Thuja plicata', 'Platycladus orientalis'],
  Pseudolarix: ['Larix decidua'],
  Syringa: ['Ligustrum ovalifolium'],
  Malus: ['Crataegus monogyna'],
};

/** Scion and understock, and between them what joins two that don't. */
export interface Pair {
  readonly group: Group;
  readonly genus: string;
  readonly scion: string;
  readonly under: string;
  readonly between?: string;
}

export const generaOf = (group: Group): readonly string[] => Object.keys(species[group]);
const speciesOf = (group: Group, genus: string): readonly string[] => species[group][genus] ?? [];

export function pairOf(draw: Draw, group: Group, genus: string): Pair {
  const own = speciesOf(group, genus);
  const under = `${genus} ${draw.pick(own)}`;
  const scion = `${genus} ${draw.pick(own)} ${draw.pick(cultivars)}`.trim();
  const strange = liveTogether[genus];
  if (strange && draw.chance(50)) return { group, genus, scion, under: draw.pick(strange) };
  return { group, genus, scion, under, ...(draw.chance(5) ? { between: `${genus} ${draw.pick(own)}` } : {}) };
}

/** `P. thunbergii` behind a spelled genus, as hands write it. */
export function taxaText(draw: Draw, { genus, scion, under, between }: Pair): string {
  const shorter = (taxon: string): string =>
    taxon.startsWith(`${genus} `) && draw.chance(50) ? taxon.replace(genus, `${genus.charAt(0)}.`) : taxon;
  return [scion, ...(between ? [shorter(between)] : []), shorter(under)].join(' / ');
}

/** Group A, where rings of needles are asked about. */
export const countsWhorls = ({ group, genus }: Pair): boolean =>
  group === 'needle' && genus !== 'Taxus' && genus !== 'Podocarpus';
