import { expectedShare, expectedTarget } from '../expected.ts';
import type { Problem } from '../finding.ts';
import { type Key, verbRow } from '../vocabulary.ts';
import type { Draft } from './draft.ts';
import { lengthsTogether } from './lengths.ts';

/**
 * What only the whole line tells: its target, its share, and facts that don't go together. Where a piece could not be
 * read (`strays`), it may have been what is missing, and nothing more is said.
 */
export function lookWhole(draft: Draft, text: string, problems: Problem[], strays: number): void {
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
  if (verb !== 'practice') lengthsTogether(draft, text, problems);
}
