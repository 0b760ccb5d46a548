import type { LineEdit } from '#grammar/finding.ts';
import { readLine } from '#grammar/line.ts';
import type { Amount, Fact, Scope, SetRef, Statement, Taxon, Value } from '#grammar/statement.ts';
import { intervalsText } from '#grammar/values/intervals.ts';
import { expectMarks, type Marked } from './marks.ts';

/** What reading each line of a log alone finds. */
export const problemsIn = (log: string): Marked[] =>
  log
    .split('\n')
    .flatMap((text, line) =>
      readLine(text).problems.map(({ span, severity, code, message }) => ({ line, ...span, severity, code, message })),
    );

/** Compares the problems of lines read alone with the marks under them. */
export const expectProblems = (log: string): void => expectMarks(log, problemsIn);

/** A line mended: edits from the end backwards. */
export function applied(text: string, edits: readonly LineEdit[]): string {
  let mended = text;
  for (const { span, text: by } of [...edits].sort((a, b) => b.span.start - a.span.start))
    mended = mended.slice(0, span.start) + by + mended.slice(span.end);
  return mended;
}

/** What a line says, without where it says it: `open | K26.1..8 | share 10%`. */
export function said(text: string): string {
  const { statement } = readLine(text);
  return statement ? saidBy(statement) : '';
}

function saidBy(statement: Statement): string {
  const { scion, interstem, stock } = statement.taxa ?? {};
  const taxa = [scion, interstem, stock].filter((taxon) => taxon !== undefined).map((taxon: Taxon) => taxon.text);
  return [
    statement.verb,
    ...(statement.codes ?? []).map((code) => code.text),
    ...statement.sets.map(setText),
    ...(statement.scopes ?? []).map(scopeText),
    ...(taxa.length > 0 ? [taxa.join(' / ')] : []),
    ...statement.facts.map(factText),
    ...(statement.spare ?? []).map((name) => `${name.text}?`),
    ...(statement.remark ? [`"${statement.remark.text}"`] : []),
    ...(statement.idle ? ['idle'] : []),
  ].join(' | ');
}

function setText(set: SetRef): string {
  const except = (set.except ?? []).map((other) => `except ${other.name.text}.${intervalsText(other.numbers)}`);
  const name = set.numbers ? `${set.name.text}.${intervalsText(set.numbers)}` : set.name.text;
  return [name, ...(set.rest ? ['rest'] : []), ...except, ...(set.count ? [`x${set.count.value}`] : [])].join(' ');
}

function scopeText(scope: Scope): string {
  switch (scope.kind) {
    case 'plant':
      return scope.taxon.text;
    case 'set':
      return setText(scope.set);
    case 'method':
    case 'group':
      return scope.words.join(',');
    default:
      return scope.kind;
  }
}

const factText = ({ key, value, lost }: Fact): string =>
  [key, ...(value.kind === 'flag' ? [] : [valueText(value)]), ...(lost ? [`(${lost})`] : [])].join(' ');

const units = { length: 'mm', share: '%', temperature: 'C', duration: 'd', number: '', minutes: 'min' } as const;

function amountText(amount: Amount): string {
  const end = (figure: number | undefined) =>
    figure === undefined ? '' : `${Math.round((amount.measure === 'share' ? figure * 100 : figure) * 1e6) / 1e6}`;
  const [low, high] = [end(amount.low), end(amount.high)];
  return (low === high ? low : `${low}..${high}`) + units[amount.measure];
}

function valueText(value: Value): string {
  switch (value.kind) {
    case 'amount':
      return amountText(value);
    case 'size':
      return [value.across, value.along].map((part) => (part ? amountText(part) : '?')).join(' x ');
    case 'word':
      return value.word;
    case 'words':
      return value.words.join(',');
    case 'name':
      return value.name.text;
    case 'names':
      return value.names.map((name) => name.text).join(',');
    case 'text':
      return `"${value.text}"`;
    case 'task':
      return `${value.work} ${value.minutes}min`;
    case 'year':
      return value.parts
        .map((part) =>
          'season' in part ? part.season : 'growth' in part ? 'growth' : `${dayText(part.from)}..${dayText(part.to)}`,
        )
        .join(',');
    case 'dates':
      return dayText(value.from) + (value.to ? `..${dayText(value.to)}` : '');
    default:
      return value.kind;
  }
}

const dayText = (day: { month: number; day: number } | { edge: string }): string =>
  'edge' in day ? day.edge : `${day.month}-${day.day}`;
