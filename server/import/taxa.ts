import { cultivarText, pairText, plantText } from './plants.ts';
import type { Cells } from './row-cells.ts';

/** Scion and understock from the row's columns of plants. What can't be read as a plant goes to the remark. */
export function taxaOf(cells: Cells, genera: ReadonlySet<string>): string | undefined {
  const pair = cells.of('pair');
  const whole = pair === '' ? undefined : pairText(pair, genera);
  if (pair !== '' && whole === undefined) cells.keep('pair');
  if (whole !== undefined) {
    for (const fact of ['plant', 'genus', 'cultivar', 'understock'] as const)
      if (cells.of(fact) !== '') cells.keep(fact);
    return whole;
  }
  const scion = scionOf(cells, genera);
  const stockCell = cells.of('understock');
  if (stockCell === '') return scion;
  const joined =
    scion === undefined ? undefined : pairText(`${scion.split(' ')[0]} / ${stockCell}`, withGenus(genera, scion));
  const stock = joined?.split(' / ')[1];
  if (scion !== undefined && stock !== undefined) return `${scion} / ${stock}`;
  cells.keep('understock');
  return scion;
}

function scionOf(cells: Cells, genera: ReadonlySet<string>): string | undefined {
  const [genus, plant, cultivar] = [cells.of('genus'), cells.of('plant'), cells.of('cultivar')];
  // a genus in its own column, the epithet alone in the next
  const epithetAlone = genus !== '' && /^[a-z]/.test(plant);
  const name = epithetAlone ? `${genus} ${plant}` : plant || genus;
  // a column headed “Variety” may hold whole names
  const whole = name === '' && cultivar !== '' ? plantText(cultivar, genera) : undefined;
  if (whole !== undefined) return whole;
  const known = genus === '' ? genera : withGenus(genera, genus);
  const text = name === '' ? undefined : plantText(name, known);
  const inside = cultivar === '' || text === undefined ? undefined : cultivarText(cultivar);
  if (text === undefined) {
    for (const fact of ['genus', 'plant', 'cultivar'] as const) if (cells.of(fact) !== '') cells.keep(fact);
    return undefined;
  }
  if (genus !== '' && !epithetAlone && !text.startsWith(`${genus} `) && text !== genus) cells.keep('genus');
  if (cultivar === '' || (inside !== undefined && text.endsWith(inside))) return text;
  const full = inside === undefined || text.endsWith("'") ? undefined : plantText(`${text} ${inside}`, known);
  if (full === undefined) cells.keep('cultivar');
  return full ?? text;
}

const withGenus = (genera: ReadonlySet<string>, name: string): ReadonlySet<string> =>
  new Set([...genera, name.replace(/^[×+] ?/, '').split(' ')[0] ?? '']);
