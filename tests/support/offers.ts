import type { CompletionItem } from 'vscode-languageserver-protocol';
import { completion } from '#server/lsp/completion.ts';
import { caretIn, type Folder, folderOf } from './view.ts';

/* What is offered at a caret in the log of a small nursery. */

export const nursery = `site     Drumlin-Lane  lat 47.90  lon 8.10
place    frame   frost-free shade wind-break
place    tent    heated shade wind-break humid
tree     T3      Pinus parviflora 'Tenysu'  in frame
tree     T14     Pinus thunbergii  in frame
batch    K26  Pinus parviflora 'Tenysu' / P. thunbergii  side-veneer  film 38mm  in frame
batch    B26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
batch    G27  Pinus mugo / Pinus sylvestris  side-veneer  film 38mm  in frame
2026-09-28  collect  L7  Pinus parviflora 'Tenysu'  x60  ripened  from T3  in frame
2026-10-09
graft    K26.1..11  cut 40%  scion 4mm x 90mm  whorls 2  by mk
graft    K26.12     cut 35..40%  scion 4mm x 90mm  whorls 2  by mk,jo
graft    B26.1..8   cut 30%  by jo
2026-12-01  fail  B26.1..8  dried
2027-03-20
swell    K26.1..8
2027-03-24
open     K26.1..8  10%
`;
const day = '2027-04-06';

/** A log of which all has been answered, as it is once the hand rests. */
export function answered(text: string): Folder {
  const folder = folderOf(text, day);
  for (const _ of folder.root.answers.all());
  return folder;
}

interface Asked {
  readonly labels: string[];
  readonly items: readonly CompletionItem[];
}

/** What is offered at `|` on a line at the log's end. */
export function offered(line: string, trigger?: string, more = ''): Asked {
  const { text, position } = caretIn(`${nursery}${more}${line}`);
  const { items } = completion(answered(text).view(), position, { snippets: true, trigger });
  return { labels: items.map(({ label }) => label), items };
}
export const labels = (line: string, trigger?: string, more = '') => offered(line, trigger, more).labels;
export const noted = (line: string) =>
  offered(line).items.map(({ label, labelDetails }) => [label, labelDetails?.description].filter(Boolean).join(' · '));
