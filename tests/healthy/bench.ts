import type { Draw } from './draw.ts';
import { type Fact, fact } from './model.ts';
import { buds, countsWhorls, fedMethods, isIn, isSide, type Pair } from './plants.ts';

export interface BenchWork {
  readonly method: string;
  readonly pair: Pair | undefined;
  readonly potted: boolean;
  readonly recordsCuts: boolean;
}

/** Figures of one sitting, in mm; undefined is not noted. */
interface Figures {
  readonly stock: number | undefined;
  /** Thinnest and thickest scion. */
  readonly scion: readonly [number, number] | undefined;
  /** Shallowest and deepest cut, of the stock. */
  readonly cut: readonly [number, number] | undefined;
}

const half = (value: number): number => Math.round(value * 2) / 2;

/** What was done at the bench, all of it inside good practice as `practice.graft` has it, its limits included. */
export function benchFacts(draw: Draw, work: BenchWork): Fact[] {
  const { method, pair, potted } = work;
  const facts: Fact[] = [];
  const add = (key: string, text: string): number => facts.push(fact(key, text));
  const noted = (percent: number): boolean => draw.chance(percent);

  const stock = noted(45) ? draw.int(6, 25) : undefined;
  if (stock) add('stock', `stock ${stock}mm`);
  const cut = cutOf(draw, work, stock, add);
  if (isIn(fedMethods, method)) return [...facts, ...branch(draw, work)];
  if (isIn(buds, method)) {
    if (noted(20)) add('whorls', `whorls ${draw.int(0, 5)}`);
    return [...facts, ...branch(draw, work)];
  }
  const scion = noted(65) ? scionOf(draw, stock, method, add) : undefined;
  facesOf(draw, method, scion, add);
  if (noted(25)) add('match', matchText(draw, method, { stock, scion, cut }));
  if (pair && noted(60)) {
    const stout = scion !== undefined && scion[0] >= 6;
    const whorls = countsWhorls(pair) ? draw.int(1, stout ? 3 : 2) : draw.int(0, 6);
    add('whorls', `whorls ${whorls}`);
  }
  if (noted(25)) add('wood', 'ripened');
  if (noted(25)) add('unpruned', `unpruned ${draw.pick(['1y', '10mo', '2y', '14mo', '60wk'])}`);
  if (potted && noted(15)) add('stocks', draw.pick(['active', 'asleep']));
  if (noted(10)) add('label', `label ${draw.pick(['red', '"tray 3"'])}`);
  return [...facts, ...branch(draw, work)];
}

function cutOf(
  draw: Draw,
  { method, recordsCuts }: BenchWork,
  stock: number | undefined,
  add: (key: string, text: string) => void,
): readonly [number, number] | undefined {
  const limits: Readonly<Record<string, readonly [number, number]>> = {
    side: [30, 50],
    'side-veneer': [30, 50],
    'chip-bud': [15, 33],
    approach: [25, 50],
  };
  const limit = limits[method];
  if (!recordsCuts || !limit || (!isSide(method) && draw.chance(40))) return undefined;
  const [low, high] = limit;
  const way = draw.int(0, 3);
  if (way === 0) {
    const third = draw.chance(50) || method === 'chip-bud';
    add('cut', third ? 'cut 1/3' : 'cut 1/2');
    return third ? [1 / 3, 1 / 3] : [0.5, 0.5];
  }
  if (way === 1 && stock) {
    const deep = half((stock * draw.int(low, high)) / 100);
    if (deep / stock >= low / 100 && deep / stock <= high / 100) {
      add('cut', `cut ${deep}mm`);
      return [deep / stock, deep / stock];
    }
  }
  const from = draw.int(low, high);
  const to = way === 2 ? draw.int(from, high) : from;
  add('cut', to > from ? `cut ${from}..${to}%` : `cut ${from}%`);
  return [from / 100, to / 100];
}

function scionOf(
  draw: Draw,
  stock: number | undefined,
  method: string,
  add: (key: string, text: string) => void,
): readonly [number, number] | undefined {
  const most = stock && method !== 'bark' ? Math.min(18, Math.floor(stock * 2.2)) : 18;
  const thin = draw.int(4, most) / 2;
  const thick = draw.chance(20) ? draw.int(thin * 2, most) / 2 : thin;
  const length = draw.int(50, 150);
  const long = draw.chance(25) ? `${length}..${length + draw.int(5, 40)}mm` : `${length}mm`;
  if (draw.chance(15)) {
    add('scion', `scion ${long}`);
    return undefined;
  }
  add('scion', `scion ${thick > thin ? `${thin}..${thick}mm` : `${thin}mm`} x ${long}`);
  return [thin, thick];
}

function facesOf(
  draw: Draw,
  method: string,
  scion: readonly [number, number] | undefined,
  add: (key: string, text: string) => void,
): void {
  const thick = scion?.[1];
  const least: Readonly<Record<string, number>> = {
    cleft: 15,
    saddle: 12,
    bark: 25,
  };
  const side = thick === undefined ? 20 : thick < 5 ? 5 * thick : 25;
  const long = (least[method] ?? (isSide(method) ? side : 4 * (thick ?? 3))) + draw.pick([0, 0, 1, 5, 12]);
  if (!draw.chance(50)) return;
  add('long', `long ${long}mm`);
  if (!draw.chance(60)) return;
  const most = isSide(method) || method === 'bark' ? Math.floor(0.4 * long) : Math.min(Math.floor(long), 60);
  add('short', `short ${draw.int(Math.min(3, most), most)}mm`);
}

/** Both edges can meet only where scion and face of the cut are about as wide; a cut leaves a face as wide as the chord of the stem at its depth. */
function matchText(draw: Draw, method: string, { stock, scion, cut }: Figures): string {
  const fits = (thick: number, deep: number): boolean => {
    const ratio = thick / (2 * (stock ?? 0) * Math.sqrt(deep * (1 - deep)));
    return ratio >= 0.75 && ratio <= 1.25;
  };
  const both =
    !isSide(method) || !stock || !scion || !cut || scion.every((thick) => cut.every((deep) => fits(thick, deep)));
  return both && draw.chance(60) ? 'match both' : 'match one';
}

function branch(draw: Draw, { method, potted }: BenchWork): Fact[] {
  if (potted) return [];
  const facts: Fact[] = [];
  if (isSide(method) && draw.chance(60)) facts.push(fact('side', draw.pick(['under', 'left', 'right'])));
  if (draw.chance(30)) facts.push(fact('branch', `branch ${draw.pick(['"3rd left"', 'apex', '"gap at the back"'])}`));
  if (isSide(method) && draw.chance(50)) {
    const far = draw.chance(10);
    facts.push(fact('out', far ? 'out 9cm' : draw.pick(['out 4cm', 'out 50mm', 'out 12mm', 'out 1.5in'])));
    if (far) facts.push(fact('text', '"no bud nearer the trunk"'));
  }
  return facts;
}
