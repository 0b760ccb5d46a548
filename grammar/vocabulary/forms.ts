import type { Measure } from '../statement.ts';
import type { ValueForm } from './keys.ts';

export interface FormRow {
  /** What belongs behind the key, as a message says it. */
  readonly what: string;
  /** How it is written, with examples in backticks. */
  readonly written: string;
  /** Of figures: what they measure, and so the units they take. */
  readonly measures?: readonly Measure[];
  /** The units offered where none was written, the likeliest first. */
  readonly offered?: readonly string[];
}

/** Every form of value: what it is called, how it is written, what it measures. */
export const forms = {
  flag: { what: 'the word alone', written: '`humid`' },
  length: {
    what: 'a length',
    written: '`9mm`, `1.5in`, `1 1/4in`; it varied: `8..10mm`',
    measures: ['length'],
    offered: ['mm', 'cm'],
  },
  share: { what: 'a share', written: '`20%`, `1/3`; it varied: `15..20%`', measures: ['share'], offered: ['%'] },
  depth: {
    what: 'a share or a length',
    written: '`40%`, `1/3`, `3mm`; it varied: `35..40%`',
    measures: ['share', 'length'],
    offered: ['%', 'mm'],
  },
  temperature: { what: 'a temperature', written: '`-1.5C`, `35F`', measures: ['temperature'], offered: ['C', 'F'] },
  duration: {
    what: 'how long',
    written: '`6wk`, `1y`; a month is 30.44 days, a year 365.25',
    measures: ['duration'],
    offered: ['d', 'wk', 'mo', 'y'],
  },
  count: { what: 'a whole number', written: '`2`; of scions or grafts `x60`', measures: ['number'], offered: [] },
  number: { what: 'a number', written: '`47.9`, `-33.5`', measures: ['number'], offered: [] },
  stage: { what: 'a stage', written: '`03`', measures: ['number'], offered: [] },
  ratio: { what: 'a figure without a unit', written: '`0.7..1.3`, `5..`', measures: ['number'], offered: [] },
  size: {
    what: 'thickness and length',
    written: '`4mm x 90mm`, `4 x 90mm`, or the length alone: `90mm`',
    measures: ['length'],
    offered: ['mm', 'cm'],
  },
  choice: { what: 'one of its words', written: 'one of the words named beside it' },
  name: { what: 'a name', written: 'as it was declared: `frame`; letters, digits, hyphens, a letter first' },
  names: { what: 'a name or several', written: 'joined by commas: `T3,T5`' },
  hands: { what: 'who', written: 'one hand, or several joined by commas: `mk,jo`' },
  code: { what: 'a finding’s code', written: 'one, or several joined by commas: `cut-deep,far-out`' },
  text: { what: 'a word or a text in double quotes', written: '`red`, `"3rd left"`; `""` is a quotation mark in it' },
  amount: { what: 'how much', written: 'as the label has it: a figure, or a text in double quotes' },
  zone: { what: 'a zone', written: '`Europe/Berlin`, `7b`' },
  year: {
    what: 'a part of the year',
    written: 'months, seasons, spans, joined by commas: `summer`, `jul..mar`, `mar-01..may-15`',
  },
  dates: {
    what: 'days',
    written: 'days on: `7..14d`; days of the year: `mar-01..may-15`',
    measures: ['duration'],
    offered: ['d'],
  },
  yearday: { what: 'a day of the year', written: '`mar-31`' },
  work: { what: 'a piece of work', written: 'one, or several joined by commas: `look`' },
  events: { what: 'an event', written: 'a verb, a word of `check`, a piece of work; several joined by commas' },
  covers: { what: 'a cover', written: 'one, or several joined by commas: `shade,wind-break`' },
  task: { what: 'a piece of work and minutes', written: '`open 0.5min`', measures: ['minutes'], offered: ['min'] },
} as const satisfies Record<ValueForm, FormRow>;
