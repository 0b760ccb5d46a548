import { readLine } from '#grammar/line.ts';

/** How genera and epithets end. A word that ends otherwise is more likely English, and then nothing is guessed. */
const genusEnd = /(?:a|us|um|is|es|ys|as|os|ix|ax|ex|on|o|er|ar|ns|ma)$/;
const epithetEnd = /(?:a|us|um|is|es|as|ys|e|i|ens|ans|ons|or|er|ur|ix|ax|ex|x|o|on|eb|ops|ar)$/;
/** English words of plants that end as Latin does. */
const english = new Set(
  'pine maple spruce juniper tree apple creeper alder elder heather silver winter blue white orange olive sequoia magnolia wisteria camellia acacia quince cypress snowflake grape rose lime'.split(
    ' ',
  ),
);

/** Longer than a plant’s name with its cultivar. */
const longest = 120;
const genusWord = /^\p{Lu}\p{Ll}+$/u;

/** Genera that stand before an epithet somewhere in the sheet: there such a word alone is a genus, too. */
export function generaOf(cells: Iterable<string>): ReadonlySet<string> {
  const genera = new Set<string>();
  for (const cell of cells) {
    if (cell.length > 2 * longest) continue;
    for (const part of cell.split('/')) {
      const [genus = '', epithet = ''] = part
        .trim()
        .replace(/^[×x+] ?/, '')
        .split(/\s+/);
      if (isGenus(genus) && isEpithet(epithet)) genera.add(genus);
    }
  }
  return genera;
}

const isGenus = (word: string) => genusWord.test(word) && genusEnd.test(word);
const isEpithet = (word: string) =>
  /^\p{Ll}[\p{Ll}-]+$/u.test(word) && epithetEnd.test(word) && !english.has(word.toLowerCase());

/** A plant as the notation writes it, or `undefined` where the words are none: `Picea glauca Conica` gets its quotes. */
export function plantText(cell: string, genera: ReadonlySet<string>): string | undefined {
  if (cell.length > longest) return undefined;
  const text = cell
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/["“”‘]([^"“”‘’]+)["“”’]/g, "'$1'")
    .replace(/^\p{Ll}/u, (first) => first.toUpperCase());
  const words = text.split(' ');
  const hybrid = /^[×X+]$/.test(words[0] ?? '') ? 1 : 0;
  const [genus = '', next = ''] = words.slice(hybrid);
  const known = genera.has(genus);
  const second = /^[×x]$/.test(next) ? (words[hybrid + 2] ?? '') : next;
  const latin = isGenus(genus) && (isEpithet(second) || (/^'/.test(next) && known));
  if (!latin && !(known && words.length === 1 + hybrid)) return undefined;
  return reads(text) ? text : quoted(words, hybrid);
}

/** Capitals behind the epithet are the cultivar. */
function quoted(words: readonly string[], hybrid: number): string | undefined {
  const at = words.findIndex((word, i) => i > hybrid + 1 && /^\p{Lu}/u.test(word));
  const cultivar = words.slice(at).join(' ');
  if (at < 0 || /['"‘’“”/]/.test(cultivar)) return undefined;
  const text = `${words.slice(0, at).join(' ')} '${cultivar}'`;
  return reads(text) ? text : undefined;
}

/** `scion / understock` in one cell, said with a slash, `on` or `x`. */
export function pairText(cell: string, genera: ReadonlySet<string>): string | undefined {
  if (cell.length > 2 * longest) return undefined;
  const parts = cell.split(/\s+(?:on|onto)\s+|\s*\/\s*/i);
  const [scion, stock] = parts;
  if (parts.length !== 2 || scion === undefined || stock === undefined) return undefined;
  const texts = [plantText(scion, genera), plantText(longer(stock, scion), genera)];
  return texts.every((text) => text !== undefined) ? texts.join(' / ') : undefined;
}

/** `P. thunbergii` behind a Pinus. */
function longer(stock: string, scion: string): string {
  const genus = scion.trim().split(/\s+/)[0] ?? '';
  return stock.trim().replace(/^(\p{Lu})\.\s*/u, (short, initial) => (genus.startsWith(initial) ? `${genus} ` : short));
}

export const cultivarText = (name: string): string | undefined => {
  if (name.length > longest) return undefined;
  const inner = name
    .trim()
    .replace(/^['"‘“]|['"’”]$/g, '')
    .replace(/'/g, '’')
    .replace(/\s+/g, ' ');
  return inner !== '' && !/["“”‘/]/.test(inner) && inner.length <= 60 ? `'${inner}'` : undefined;
};

/** True where the notation reads these words as one plant, whole. */
function reads(text: string): boolean {
  const { statement, problems } = readLine(`batch A  ${text}`);
  const { taxa } = statement ?? {};
  const whole = taxa?.span.end === `batch A  ${text}`.length;
  return whole && problems.length === 0 && !taxa.stock && statement?.facts.length === 0 && !statement.spare;
}
