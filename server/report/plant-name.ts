import type { Taxon } from '#grammar/statement.ts';
import { escaped } from './html.ts';

/** A plant's name as the code of cultivated plants has it: genus and epithet italic, rank and sign upright, ‘Cultivar’. */
export function plantName({ text, genus, cultivar }: Taxon): string {
  const quoted = cultivar === undefined ? '' : `'${cultivar}'`;
  const at = quoted ? text.lastIndexOf(quoted) : -1;
  const before = at < 0 ? text : text.slice(0, at);
  const words = before.trim().split(/\s+/);
  const latin = words
    .map((word) => (upright.test(word) && word !== genus ? escaped(word) : `<i lang="la">${escaped(word)}</i>`))
    .join(' ')
    .replaceAll('</i> <i lang="la">', ' ');
  if (cultivar === undefined) return latin;
  return `${latin} ‘${escaped(cultivar)}’${at < 0 ? '' : escaped(text.slice(at + quoted.length))}`;
}

/** Signs, ranks and shortened ranks stand upright. */
const upright = /^(?:[×x+]|subsp\.?|ssp\.?|var\.?|f\.?|forma|cv\.?|gx|sp\.?|spp\.?)$/u;

/** Scion on understock, with what stands between them; a genus that repeats is one letter. */
export function pairName(taxa: readonly (Taxon | undefined)[]): string {
  const known = taxa.filter((taxon) => taxon !== undefined);
  return known
    .map((taxon, i) => (i > 0 && taxon.genus === known[0]?.genus ? shortName(taxon) : plantName(taxon)))
    .join(' / ');
}

/** `P. abies` behind another of its genus. */
function shortName(taxon: Taxon): string {
  const { genus, text, epithet } = taxon;
  if (epithet === undefined || !text.startsWith(`${genus} `)) return plantName(taxon);
  const initial = `${[...genus][0]}.`;
  return plantName({ ...taxon, genus: initial, text: initial + text.slice(genus.length) }).replace(
    `${initial} `,
    `${initial}\u00A0`,
  );
}
