import type { Location, LocationLink } from 'vscode-languageserver';
import { isCode } from '#grammar/codes.ts';
import type { Position } from '#grammar/document.ts';
import type { Span } from '#grammar/finding.ts';
import type { Fact, Intervals, Statement } from '#grammar/statement.ts';
import { intersect } from '#grammar/values/intervals.ts';
import { keyRow } from '#grammar/vocabulary.ts';
import type { Entry } from '#server/engine/model.ts';
import { type LimitKey, shippedFile } from '#server/engine/practice.ts';
import { subjectOf } from '#server/engine/subject.ts';
import { entryAt, type FileView, inside } from './feature.ts';
import { cohortOn } from './hover-cut.ts';
import { type Named, nameAt } from './name-at.ts';
import { pageScheme } from './protocol.ts';
import { toLocation, toRange } from './to-protocol.ts';

export interface DefinitionOptions {
  /** The client shows what a link starts from. */
  readonly links: boolean;
  /** The client opens our pages by their scheme. */
  readonly pages: boolean;
}

type Target = Location & { readonly line?: Location['range'] };

/**
 * From a name to the line that gives it; from a graft's number to the line that made it; from a figure to the practice
 * line it is held against; from a code to its page.
 */
export function definition(
  view: FileView,
  position: Position,
  options: DefinitionOptions,
): Location[] | LocationLink[] {
  const entry = entryAt(view, position);
  const { statement } = entry?.line ?? {};
  if (!entry || !statement) return [];
  const { character } = position;
  const named = nameAt(entry, character);
  const answer = (targets: readonly Target[], span: Span): Location[] | LocationLink[] =>
    options.links
      ? targets.map(({ uri, range, line }) => ({
          targetUri: uri,
          targetRange: line ?? range,
          targetSelectionRange: range,
          originSelectionRange: toRange(view.root, entry, span),
        }))
      : targets.map(({ uri, range }) => ({ uri, range }));
  if (named) return named.as === 'hand' ? [] : answer(givenBy(view, named, entry), named.pickedSpan);
  if (!options.pages) return [];
  const code = codeAt(entry, statement, character);
  if (code) return answer([{ uri: `${pageScheme}:/${code.text}.md`, range: topOfPage }], code.span);
  const fact = statement.facts.find(({ span }) => inside(span, character));
  return fact ? answer(practiceFor(view, entry, statement, fact), fact.span) : [];
}

const topOfPage = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

function givenBy({ root }: FileView, { name, on, picked }: Named, from: Entry): Target[] {
  const lineOf = (entry: Entry, span: Span): Target => ({
    ...toLocation(root, entry, span),
    line: toRange(root, entry, { start: 0, end: entry.line.text.length }),
  });
  const made = on !== 'name' && picked ? madeBy(root, name.key, picked).filter((entry) => entry !== from) : [];
  if (made.length > 0) return made.map((entry) => lineOf(entry, entry.line.statement?.sets[0]?.span ?? nowhere));
  const declared = root.log.names.declared(name.key)?.entry ?? madeBy(root, name.key)[0];
  return declared ? [lineOf(declared, declared.line.statement?.sets[0]?.name.span ?? nowhere)] : [];
}

const nowhere: Span = { start: 0, end: 0 };

/** The `graft` lines of a batch that make one of these numbers, or any, oldest first. */
export function madeBy(root: FileView['root'], batch: string, numbers?: Intervals): Entry[] {
  return (root.log.names.workOn(batch)?.all ?? []).filter(({ line: { statement } }) => {
    const set = statement?.verb === 'graft' && !statement.idle ? statement.sets[0] : undefined;
    return set?.name.key === batch && (!numbers || (set.numbers && intersect(set.numbers, numbers).length > 0));
  });
}

/** `accept cut-deep K26`, `cut 22%  accept cut-shallow`. */
export function codeAt(
  entry: Entry,
  statement: Statement,
  character: number,
): { text: string; span: Span } | undefined {
  const written = statement.codes?.find(({ span }) => inside(span, character));
  if (written) return isCode(written.text) ? written : undefined;
  const fact = statement.facts.find(({ key, valueSpan }) => key === 'accept' && inside(valueSpan, character));
  if (!fact) return undefined;
  for (const word of entry.line.text.slice(fact.valueSpan.start, fact.valueSpan.end).matchAll(/[a-z-]+/g)) {
    const start = fact.valueSpan.start + word.index;
    const span = { start, end: start + word[0].length };
    if (inside(span, character) && isCode(word[0])) return { text: word[0], span };
  }
  return undefined;
}

/** The practice lines that a fact of these grafts is held against; a shipped one stands in a page. */
function practiceFor({ root }: FileView, entry: Entry, { verb, sets }: Statement, fact: Fact): Target[] {
  const key = limitOf(fact.key, verb);
  const batch = sets[0]?.name.key;
  if (!key || batch === undefined || !root.log.names.isBatch(batch)) return [];
  const cohort = cohortOn(root, entry);
  if (!cohort) return [];
  const { practice, log, lots } = root.answers.env;
  const limits = practice.limits(key, subjectOf(cohort, entry.day ?? cohort.madeDay, log, lots));
  return limits.map(({ row: { entry: own, shipped } }) => {
    const span = { start: 0, end: own.line.text.length };
    if (!shipped) return toLocation(root, own, span);
    // the rank of a shipped line is its number
    const at = (character: number) => ({ line: own.rank, character });
    return { uri: `${pageScheme}:/${shippedFile}`, range: { start: at(span.start), end: at(span.end) } };
  });
}

function limitOf(key: Fact['key'], verb: Statement['verb']): LimitKey | undefined {
  if (key === 'share') return verb === 'open' ? 'open-step' : verb === 'headback' ? 'headback-step' : undefined;
  return keyRow(key).limit ? (key as LimitKey) : undefined;
}
