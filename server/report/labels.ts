import type { Taxon } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Labelled } from '#server/engine/labelled.ts';
import { countText } from '#server/engine/say.ts';
import { escaped, htmlPage } from './html.ts';
import { type CodeKind, type LabelCode, labelCode, latinOf, shortGenus } from './label-code.ts';
import { type LabelSize, type LabelSizeName, labelSizes } from './label-sizes.ts';
import style from './labels.css' with { type: 'text' };
import { cutTo, widthOf } from './letter-widths.ts';
import { plantName } from './plant-name.ts';

export interface LabelSheets {
  readonly html: string;
  readonly sheets: number;
  /** Labels whose number no code of that size can hold. */
  readonly withoutCode: number;
}

/** Labels on sheets of their size, one page to print: black on white, each clear of its edges. */
export function labelSheets(labels: readonly Labelled[], name: LabelSizeName, kind: CodeKind): LabelSheets {
  const size: LabelSize = labelSizes[name];
  let withoutCode = 0;
  const drawn = labels.map((label) => {
    const code = labelCode(label, size, kind);
    if (!code && size.code && kind !== 'none') withoutCode++;
    return labelOf(label, size, code);
  });
  const each = size.columns * size.rows;
  const sheets = Array.from({ length: Math.ceil(drawn.length / each) }, (_, i) =>
    [`<div class="sheet">`, ...drawn.slice(i * each, (i + 1) * each), '</div>'].join('\n'),
  );
  const title = `Plant labels, ${labels[0]?.batch.name ?? ''}`;
  const body = `<main class="size-${name}">\n<h1>${escaped(title)}</h1>\n${sheets.join('\n')}\n</main>`;
  return { html: htmlPage({ title, style: `${measures(size)}${style}`, body }), sheets: sheets.length, withoutCode };
}

function measures({ width, height, columns, rows, top, left, paper, code, type }: LabelSize): string {
  return `@page { margin: 0;${paper ? ` size: ${paper};` : ''} }
:root { --width: ${width}mm; --height: ${height}mm; --columns: ${columns}; --rows: ${rows}; --top: ${top}mm; --left: ${left}mm; --code: ${code?.side ?? 0}mm; --name: ${type.name}pt; --stock: ${type.stock}pt; --number: ${type.number}pt; --small: ${type.small}pt; }
`;
}

function labelOf(label: Labelled, size: LabelSize, code: LabelCode | undefined): string {
  const { number, made, scion, stock, onto, tray, count } = label;
  const day = made === undefined ? '' : isoDay(made);
  const head = `<p class="${numberClass(number, day, size)}"><b>${escaped(number)}</b> <span>${day}</span></p>`;
  const lines = [
    scion ? nameLine(scion, size) : '',
    stock ? stockLine(stock, scion, size) : '',
    onto || tray
      ? `<p class="more">${escaped([onto && `on ${onto}`, tray, tray && countText(count, 'graft')].filter(Boolean).join(' · '))}</p>`
      : '',
  ].join('');
  const words = size.code ? `<div class="plant">${lines}</div>${head}` : `${head}<div class="plant">${lines}</div>`;
  return `<div class="label">${code ? svgOf(code) : ''}<div class="words">${words}</div></div>`;
}

/** Beside its date; where both have no room, above it; where it has none by itself, smaller. */
function numberClass(number: string, day: string, { words, type, code }: LabelSize): string {
  const [own, beside] = [widthOf(number) * type.number * bold, widthOf(`  ${day}`) * type.stock];
  if (own > points(words)) return 'number stacked small';
  return code && own + beside <= points(words) ? 'number' : 'number stacked';
}

/** Bold letters are so much wider. */
const bold = 1.08;
const points = (millimetres: number) => (millimetres * 72) / 25.4;

/** In at most two lines, the cultivar unbroken: if need be the genus as one letter, then all of it smaller. */
function nameLine(scion: Taxon, { words, type }: LabelSize): string {
  const fits = (taxon: Taxon, size: number) => {
    const { latin, cultivar } = partsOf(taxon);
    const [a, b] = [widthOf(latin) * size, widthOf(cultivar) * size];
    return a + b + size / 4 <= points(words) || (a <= points(words) && b <= points(words));
  };
  const short = shortGenus(scion);
  if (fits(scion, type.name)) return nameHtml(scion, 'name');
  return nameHtml(short, fits(short, type.name) ? 'name' : fits(short, type.small) ? 'name small' : 'name small long');
}

/** On one line: of the scion’s genus as one letter, smaller if need be, then without its cultivar, then cut. */
function stockLine(stock: Taxon, scion: Taxon | undefined, { words, type }: LabelSize): string {
  const same = scion?.genus === stock.genus ? shortGenus(stock) : stock;
  const fits = (taxon: Taxon, size: number) => widthOf(`/ ${taxon.text}`) * size <= points(words);
  if (fits(same, type.stock)) return nameHtml(same, 'stock', '/ ');
  if (fits(same, type.small)) return nameHtml(same, 'stock small', '/ ');
  const short = shortGenus(stock);
  if (fits(short, type.small)) return nameHtml(short, 'stock small', '/ ');
  const latin = short.cultivar === undefined ? short.text : `${latinOf(short)} …`;
  const cut = cutTo(latin, points(words) / type.small - widthOf('/ '));
  return `<p class="stock small">/ ${plantName({ genus: short.genus, text: cut, span: short.span })}</p>`;
}

interface Parts {
  readonly latin: string;
  /** In single quotes. */
  readonly cultivar: string;
}

const partsOf = (taxon: Taxon): Parts => ({
  latin: latinOf(taxon),
  cultivar: taxon.cultivar === undefined ? '' : `‘${taxon.cultivar.replaceAll("'", '’')}’`,
});

/** A blank that may break stands before the cultivar only. */
function nameHtml(taxon: Taxon, kind: string, before = ''): string {
  const { latin, cultivar } = partsOf(taxon);
  const { cultivar: _, ...plain } = taxon;
  const html = plantName({ ...plain, text: latin }).replace(/(\p{Lu}\.) /u, '$1&nbsp;');
  return `<p class="${kind}">${before}${html}${cultivar ? ` <span class="cultivar">${escaped(cultivar)}</span>` : ''}</p>`;
}

/** Modules as runs along each row, one path: a sheet of thousands stays a file that opens. */
function svgOf({ modules, text }: LabelCode): string {
  const side = modules.length;
  let path = '';
  modules.forEach((row, y) => {
    for (let x = 0; x < side; ) {
      let end = x;
      while (row[end]) end++;
      if (end > x) path += `M${x} ${y}h${end - x}v1h-${end - x}z`;
      x = Math.max(end, x + 1);
    }
  });
  return `<svg class="code" viewBox="0 0 ${side} ${side}" shape-rendering="crispEdges" role="img" aria-label="Code: ${escaped(text)}"><path d="${path}"/></svg>`;
}
