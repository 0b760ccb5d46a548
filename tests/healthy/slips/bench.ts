import type { Severity } from '#grammar/finding.ts';
import type { Draw } from '../draw.ts';
import { dropFact, fact, factOf, setFact } from '../model.ts';
import { detachedMethods } from '../plants.ts';
import { benchSlip, type Planter, type Planters, plain, type Site, type Slip, someDay } from './slip.ts';

const side = ['side-veneer', 'side'] as const;
const counted = ['Pinus', 'Picea', 'Abies', 'Cedrus', 'Pseudotsuga', 'Tsuga', 'Sciadopitys'] as const;
const branch = { methods: side, potted: false } as const;

const off = (
  wish: NonNullable<Planter['wish']>,
  texts: readonly (string | readonly string[])[] | ((draw: Draw) => string),
  severity?: Severity,
): Planter => ({
  wish,
  plant: (site) => {
    const one = typeof texts === 'function' ? texts(site.draw) : site.draw.pick(texts);
    return benchSlip(site, typeof one === 'string' ? [one] : one, severity);
  },
});
const needle = (draw: Draw): string => `whorls ${draw.int(3, 12)}`;

/** Cut, faces, scion, wood, side and match, beyond the limits of `practice.graft`, on the line that wrote the fact. */
export const bench: Planters = {
  'cut-shallow': [
    off({ methods: ['side'] }, ['cut 29%', 'cut 22%', 'cut 25..35%', 'cut 1/4', ['cut 2mm', 'stock 9mm']]),
    off({ methods: ['side-veneer'], potted: true }, ['cut 9%', 'cut 5%', 'cut 5..40%', ['cut 1mm', 'stock 12mm']]),
    off({ methods: ['side-veneer'], potted: true }, ['cut 10%', 'cut 29%', 'cut 20..40%'], 'information'),
  ],
  'cut-deep': [
    off({ methods: side }, ['cut 51%', 'cut 70%', 'cut 45..55%', 'cut 2/3', ['cut 7mm', 'stock 12mm']]),
    off({ methods: ['chip-bud'] }, ['cut 34%', 'cut 1/2', ['cut 4mm', 'stock 10mm']]),
    off({ methods: ['approach'] }, ['cut 51%', 'cut 60%', ['cut 7mm', 'stock 12mm']]),
  ],
  'cut-missing': [
    {
      wish: { methods: side },
      plant: (site) => {
        const { batch, draw } = site;
        const copied = site.season.batches.some(
          ({ declaration }) => factOf(declaration, 'like') === `like ${batch.name}`,
        );
        if (batch.grafts.length < 2 || copied) return undefined;
        plain(site);
        dropFact(batch.declaration, 'cut');
        for (const graft of batch.grafts) setFact(graft, 'cut', 'cut 40%');
        const line = draw.pick(batch.grafts);
        dropFact(line, 'cut');
        return { line, today: someDay(site, batch.last) };
      },
    },
  ],
  'face-short': [
    off({ methods: side }, ['long 19mm', ['long 19mm', 'scion 4mm x 90mm'], ['long 24mm', 'scion 5mm x 90mm']]),
    off({ methods: ['cleft'] }, ['long 14mm', 'long 8mm']),
    off({ methods: ['whip', 'whip-and-tongue', 'splice'] }, [['long 19mm', 'scion 5mm x 90mm']]),
    off({ methods: ['saddle'] }, ['long 11mm']),
    off({ methods: ['bark'] }, ['long 24mm', 'long 10..30mm']),
  ],
  'faces-level': [
    off({ methods: [...side, 'bark'] }, [
      ['long 30mm', 'short 13mm'],
      ['long 30mm', 'short 30mm'],
    ]),
  ],
  'whorls-few': [off({ methods: detachedMethods, genera: counted, groups: ['needle'] }, ['whorls 0'])],
  'whorls-many': [
    off({ methods: detachedMethods, genera: counted, groups: ['needle'] }, needle),
    off({ methods: detachedMethods, genera: counted, groups: ['needle'] }, [
      ['whorls 4', 'scion 6mm x 90mm'],
      ['whorls 3', 'scion 5mm x 90mm'],
    ]),
  ],
  'wood-soft': [off({ methods: detachedMethods }, ['soft']), onLot('soft')],
  'wood-old': [off({ methods: detachedMethods }, ['old']), onLot('old')],
  'wood-pruned': [
    off({ methods: detachedMethods }, ['unpruned 5mo', 'unpruned 9mo', 'unpruned 30wk']),
    onLot('unpruned 6mo'),
  ],
  'scion-short': [
    off({ methods: detachedMethods }, ['scion 49mm', 'scion 4mm x 30mm', 'scion 4mm x 40..90mm', 'scion 1.5in']),
  ],
  'scion-thick': [
    off({ methods: ['side', 'side-veneer', 'cleft', 'whip', 'saddle', 'splice'] }, [
      ['scion 8mm x 90mm', 'stock 6mm'],
      ['scion 7mm x 90mm', 'stock 6mm'],
    ]),
  ],
  'side-top': [off(branch, ['top'])],
  'far-out': [
    {
      wish: branch,
      plant: (site) => {
        for (const graft of site.batch.grafts) dropFact(graft, 'text', 'out');
        return benchSlip(site, [site.draw.pick(['out 51mm', 'out 12cm', 'out 3in'])]);
      },
    },
  ],
  'cambium-unmatched': [
    off({ methods: detachedMethods }, ['match none']),
    off({ methods: side }, [['match both', 'stock 20mm', 'cut 40%', 'scion 4mm x 90mm']], 'information'),
  ],
  'joint-reset': [off({ methods: detachedMethods }, ['reset'])],
  'pair-poor': [
    pair('needle', ['Pinus', 'Picea', 'Abies'], ['Larix decidua', 'Cedrus libani', 'Pseudotsuga menziesii']),
    pair('scale', ['Juniperus', 'Cupressus'], ['Thuja plicata', 'Cryptomeria japonica', 'Taxodium distichum']),
    {
      wish: { groups: ['needle'], genera: ['Pinus'], methods: detachedMethods, told: true, potted: true, lot: false },
      plant: (site) => {
        setFact(site.batch.declaration, 'taxa', "Pinus parviflora 'Zuisho' / P. thunbergii");
        return { line: site.batch.declaration, today: someDay(site, site.batch.last) };
      },
    },
  ],
  'pair-never': [
    pair('needle', ['Pinus', 'Picea', 'Abies'], ['Juniperus communis', 'Taxus baccata', 'Ginkgo biloba']),
    pair('scale', ['Juniperus', 'Thuja'], ['Pinus mugo', 'Sciadopitys verticillata', 'Podocarpus macrophyllus']),
    pair('needle', ['Taxus', 'Podocarpus', 'Sciadopitys'], ['Pinus mugo', 'Thuja plicata', 'Larix decidua']),
  ],
};

/** On the lot, which is told about once, on its own line. */
function onLot(text: string): Planter {
  return {
    wish: { methods: detachedMethods, lot: true },
    plant: (site: Site): Slip | undefined => {
      const line = site.batch.collect;
      if (!line) return undefined;
      plain(site);
      dropFact(line, 'wood');
      line.facts.push(fact('slip', text));
      return { line, today: someDay(site, site.batch.last) };
    },
  };
}

/** The understock of another genus, as the batch tells it. */
function pair(group: 'needle' | 'scale', genera: readonly string[], under: readonly string[]): Planter {
  return {
    wish: { groups: [group], genera, methods: detachedMethods, told: true, potted: true, lot: false },
    plant: (site) => {
      const { declaration, pair: told } = site.batch;
      if (!told || !factOf(declaration, 'taxa')) return undefined;
      setFact(declaration, 'taxa', `${told.scion} / ${site.draw.pick(under)}`);
      return { line: declaration, today: someDay(site, site.batch.last) };
    },
  };
}
