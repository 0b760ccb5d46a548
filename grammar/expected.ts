import { forms, type Key, keyRow, type Verb, verbRow } from './vocabulary.ts';

const what: Partial<Record<Key, string>> = {
  cut: 'how deep: `cut 40%` or `cut 3mm`',
  stock: 'how thick the understock is: `stock 9mm`',
  scion: 'how thick and how long it is: `scion 4mm x 90mm`',
  whorls: 'how many rings of needles stay: `whorls 2`',
  by: 'who did it: `by mk`',
  in: 'a place: `in frame`',
  to: 'where to: `to frame`',
  wait: 'days on or days of the year: `wait 7..14d`, `wait mar-01..may-15`',
  off: 'months or seasons: `off jul..mar`, `off summer`, or `none`',
};

/** What belongs behind a key, in a grower's words. */
export function expectedAfter(key: Key, verb?: Verb): string {
  if (key === 'to' && verb === 'sell') return 'After `to` comes to whom: `to "garden centre"`.';
  const row = keyRow(key);
  return `After \`${key}\` comes ${what[key] ?? `${forms[row.value].what}: \`${row.example}\``}.`;
}

export function expectedShare(verb: Verb): string {
  return `After \`${verb}\` comes how far it is now: \`${verbRow(verb).example}\`.`;
}

export function expectedTarget(verb: Verb): string {
  const { operand, example, acts } = verbRow(verb);
  if (operand === 'name') return `After \`${verb}\` comes its name: \`${example}\`.`;
  if (verb === 'weather') return `After \`weather\` comes a file of the folder: \`${example}\`.`;
  if (verb === 'accept') return `After \`accept\` comes which findings: \`${example}\`.`;
  if (acts?.length === 1 && acts[0] === 'place') return `After \`${verb}\` comes the place: \`${example}\`.`;
  return `After \`${verb}\` comes which grafts: \`${example}\`.`;
}
