import { type Batch, dropFact, fact, type Line, livingOn, setFact } from './model.ts';
import type { Nursery } from './nursery.ts';
import { countsWhorls, detachedMethods, isIn, isSide } from './plants.ts';

/** A nursery's own ways: off the shipped practice, and owned up to by a line of practice, a pair, or an `accept`. */
export function ownWays(nursery: Nursery, batch: Batch): void {
  const { draw } = nursery;
  const { name, method, pair, grafts } = batch;
  if (!pair || !isIn(detachedMethods, method)) return;
  const graft = draw.pick(grafts);
  const declare = (verb: string, target: string, ...texts: readonly string[]): Line =>
    nursery.declare(
      verb,
      target,
      texts.map((text) => fact(text, text)),
      batch,
    );
  const way = draw.int(0, 6);
  if (way === 0 && countsWhorls(pair)) {
    setFact(graft, 'whorls', 'whorls 5');
    declare('practice', draw.pick([name, `${pair.genus}`]), 'whorls 1..5', 'source "own record, five winters"');
  }
  if (way === 1 && isSide(method) && nursery.season.recordsCuts) {
    setFact(graft, 'cut', 'cut 22%');
    if (draw.chance(50)) graft.facts.push(fact('accept', 'accept cut-shallow'));
    else declare('accept', 'cut-shallow', name, '"thin bark"');
  }
  if (way === 2) {
    for (const line of [batch.declaration, ...grafts]) dropFact(line, 'long', 'short', 'scion', 'match', 'whorls');
    setFact(graft, 'scion', 'scion 3mm x 30mm');
    if (draw.chance(50)) declare('practice', `${pair.genus} detached`, 'scion 20mm..', 'source "brooms make no more"');
    else declare('accept', 'scion-short', draw.pick([name, pair.genus, '']), '"a broom"');
  }
  if (way === 3) {
    graft.facts.push(fact('reset'), fact('accept', 'accept joint-reset'));
  }
  if (way === 4 && pair.genus === 'Pinus' && batch.potted && !batch.collect && !pair.between) {
    setFact(batch.declaration, 'taxa', 'Pinus mugo / Picea abies');
    declare('pair', 'Pinus mugo / Picea abies', 'good', 'source "own record"');
  }
  if (way === 5 && isSide(method) && !batch.potted) {
    setFact(graft, 'side', 'top');
    declare('accept', 'side-top', draw.pick([name, method, '']), '"the only live bark there"');
  }
  if (way === 6) declare('practice', name, 'open-every 10..21d', 'silent 90d..3y', 'source "own habit"');
}

/** Next year's batch after this one's pattern: plants, method, place and bench facts are taken over. */
export function nextYear(nursery: Nursery, batch: Batch): Batch | undefined {
  const { draw } = nursery;
  if (!batch.potted || batch.collect || batch.place.own || batch.counted) return undefined;
  const name = nursery.name('N');
  const declaration: Line = { verb: 'batch', target: name, facts: [fact('like', `like ${batch.name}`)] };
  const later = (day: number): number => day + 366;
  const next: Batch = {
    ...{ name, declaration, method: batch.method, pair: batch.pair, wrap: batch.wrap, potted: true, counted: false },
    ...{ size: batch.size, place: batch.place, trees: [], grafts: [], lost: new Map() },
    ...{ first: later(batch.first), last: later(batch.last) },
  };
  declaration.batch = next;
  nursery.add(declaration);
  for (const line of batch.grafts) {
    if (typeof line.target === 'string') continue;
    const target = { batch: next, ...(line.target.numbers ? { numbers: line.target.numbers } : {}) };
    const facts = line.facts.filter(({ key }) => key !== 'label' || draw.chance(50));
    next.grafts.push(nursery.add({ verb: 'graft', day: later(line.day ?? 0), target, facts, batch: next }));
  }
  return livingOn(next, next.last).length > 0 ? next : undefined;
}
