import type { Problem } from '../finding.ts';
import type { RawTaxon } from '../pieces.ts';
import { end } from '../sort-words.ts';
import type { Taxa, Taxon } from '../statement.ts';
import { readTaxon } from '../values/taxon.ts';

/** scion / understock, or scion / interstem / understock. `genera` collects what `P.` may stand for. */
export function readTaxa(raw: readonly RawTaxon[], genera: string[], problems: Problem[]): Taxa | undefined {
  const taxa: Taxon[] = [];
  for (const { tokens } of raw) {
    const { taxon, unclosed } = readTaxon(tokens, genera, taxa);
    const first = tokens[0];
    const last = tokens.at(-1);
    if (!first || !last) continue;
    const span = { start: first.startOffset, end: end(last) };
    if (!taxon) {
      problems.push({
        code: 'unreadable',
        severity: 'error',
        span,
        message: `\`${last.image === '.' ? `${tokens.at(-2)?.image}.` : first.image}\` stands for a name spelled out earlier on the line, and none is.`,
      });
      return undefined;
    }
    if (unclosed)
      problems.push({
        code: 'unreadable',
        severity: 'error',
        span: { start: last.startOffset, end: end(last) },
        message: 'This cultivar’s name is not closed: a single quote belongs behind it.',
        mends: [
          {
            title: 'Close the name',
            edits: [{ span: { start: end(last), end: end(last) }, text: last.image.startsWith('‘') ? '’' : "'" }],
          },
        ],
      });
    genera.push(taxon.genus);
    taxa.push(taxon);
  }
  const [scion, second, third] = taxa;
  if (!scion) return undefined;
  const span = { start: scion.span.start, end: (taxa.at(-1) as Taxon).span.end };
  if (taxa.length > 3)
    problems.push({
      code: 'unreadable',
      severity: 'error',
      span,
      message: 'Three plants at most: scion / interstem / understock.',
    });
  if (third && second) return { scion, interstem: second, stock: third, span };
  return { scion, ...(second ? { stock: second } : {}), span };
}
