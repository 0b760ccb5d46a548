import { expectedShare, expectedTarget } from '../expected.ts';
import type { Problem } from '../finding.ts';
import type { Fact } from '../statement.ts';
import { type Key, verbRow } from '../vocabulary.ts';
import type { Draft } from './draft.ts';

/**
 * What only the whole line tells: its target, its share, and facts that don't go together. Where a piece could not be
 * read (`strays`), it may have been what is missing, and nothing more is said.
 */
export function lookWhole(draft: Draft, problems: Problem[], strays: number): void {
  const { verb, facts } = draft;
  const row = verbRow(verb);
  const [set] = draft.sets;
  const missing = (message: string) => {
    if (!draft.idle && strays === 0)
      problems.push({ code: 'missing-value', severity: 'error', span: draft.verbSpan, message });
    draft.idle = true;
  };
  const told = (key: Key) => facts.find((fact) => fact.key === key);
  const asksTarget = row.operand === 'name' || row.operand === 'made' || (row.operand === 'sets' && !row.bare);
  if (!set && asksTarget) missing(expectedTarget(verb));
  if (verb === 'graft' && set && !set.numbers && !set.count)
    missing(
      `Which of \`${set.name.text}\` were made: \`graft ${set.name.text}.1..12\` or \`graft ${set.name.text} x12\`.`,
    );
  if (row.share === 'asked' && !told('share')) missing(expectedShare(verb));
  if (row.share === 'asked' && told('share')?.lost === 'unread') draft.idle = true;
  if (verb === 'move') {
    if (told('to')?.lost) draft.idle = true;
    else if (!told('to')) missing('After `move` come what and where to: `move S27 to frame`.');
  }
  if (verb === 'cover' && facts.every((fact) => fact.value.kind !== 'flag'))
    missing('After `cover` comes what it keeps off: `cover frame  frost-free`.');
  if (verb === 'reading' && facts.length === 0 && !draft.remark)
    missing('After the place comes what was read there: `reading frame  min 1.5C`.');
  if (verb === 'pair' && !draft.taxa?.stock)
    missing('After `pair` come scion and understock: `pair Pinus parviflora / Pinus thunbergii  good`.');
  else if (verb === 'pair' && !told('word') && !draft.remark)
    missing('Behind a pair stands how it does: `good`, `fair`, `poor` or `never`.');
  if (verb === 'accept' && !draft.codes)
    missing('After `accept` comes what is known: `accept cut-deep K26 "thin bark"`.');
  if (verb === 'weather' && !draft.remark)
    missing('After `weather` comes the file in double quotes: `weather "station.csv"`.');
  const [asleep, active] = [told('asleep'), told('active')];
  if (asleep && active && verb !== 'practice')
    problems.push({
      code: 'contradiction',
      severity: 'error',
      span: active.span,
      message: '`asleep` and `active` on one line: one of them holds.',
      mends: [active, asleep].map((fact) => ({
        title: `Take out \`${fact.key}\``,
        edits: [{ span: fact.span, text: '' }],
      })),
    });
  lengthsTogether(draft, problems);
}

const high = (fact: Fact | undefined) =>
  fact && !fact.lost && fact.value.kind === 'amount' ? fact.value.high : undefined;

function lengthsTogether(draft: Draft, problems: Problem[]): void {
  if (draft.verb === 'practice') return;
  const of = (key: Key) => draft.facts.find((fact) => fact.key === key);
  const slip = (key: Key, message: string) => {
    const at = draft.facts.findIndex((fact) => fact.key === key);
    const fact = draft.facts[at] as Fact;
    draft.facts[at] = { ...fact, lost: 'slipped' };
    problems.push({ code: 'unit-slip', severity: 'error', span: fact.span, message });
  };
  const [long, short, cut, stock] = [high(of('long')), high(of('short')), of('cut'), high(of('stock'))];
  if (long !== undefined && short !== undefined && short > long)
    slip('short', `The short face, ${short} mm, is longer than the long one, ${long} mm: are they swapped?`);
  const deep = cut?.value.kind === 'amount' && cut.value.measure === 'length' ? high(cut) : undefined;
  if (deep !== undefined && stock !== undefined && deep >= stock)
    slip('cut', `Cut ${deep} mm into ${stock} mm: that is through the whole stock.`);
}
