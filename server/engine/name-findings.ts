import type { Mend, Span } from '#grammar/finding.ts';
import { noCause } from '#grammar/read/no-cause.ts';
import type { Name, Statement } from '#grammar/statement.ts';
import { nearest, reservedWords, verbRow, wordsOf } from '#grammar/vocabulary.ts';
import { actedOn, type Mention, mentionsIn } from './mentions.ts';
import type { Entry, Finding, LogMend, NameKind } from './model.ts';
import type { NameIndex } from './name-index.ts';

/** What of the log is asked here. */
interface Names {
  readonly names: NameIndex;
  firstLine(file: string): Entry | undefined;
}

/** What the names on a line have wrong: given twice, declared by nothing, or of a kind the verb doesn't act on. */
export function nameFindings(entry: Entry, log: Names): Finding[] {
  const statement = entry.line.statement;
  if (!statement || statement.idle) return [];
  const lost = verbRow(statement.verb).kind === 'work' && entry.day === undefined && !entry.problems;
  if (lost) return [];
  const found: Finding[] = [];
  const swallowed = restOfPlaceName(entry, statement, log);
  for (const mention of mentionsIn(statement)) {
    if (swallowed?.names.includes(mention.name)) continue;
    const finding =
      mention.as === 'declared'
        ? declaredTwice(mention, entry, log)
        : unknown(mention, entry, statement, log, swallowed);
    if (finding) found.push(finding);
  }
  if (statement.verb === 'graft' && statement.facts.some((fact) => fact.key === 'onto')) {
    const place = statement.facts.find((fact) => fact.key === 'in');
    if (place)
      found.push({
        code: 'contradiction',
        severity: 'error',
        entry,
        span: place.span,
        message: 'A graft `onto` a tree stands where the tree stands: `in` goes on the tree’s line.',
        mends: [{ title: 'Take `in` out', edits: [{ span: withBlank(entry, place.span), text: '' }] }],
      });
  }
  for (const name of statement.spare ?? []) {
    if (swallowed?.names.includes(name)) continue;
    found.push(unknownWord(name, entry, statement, log));
  }
  return found;
}

/** A piece of a line together with the blanks before it. */
export function withBlank(entry: Entry, span: Span): Span {
  let { start } = span;
  while (start > 0 && /\s/.test(entry.line.text[start - 1] ?? '')) start--;
  return { start, end: span.end };
}

function declaredTwice(mention: Mention, entry: Entry, log: Names): Finding | undefined {
  const { name } = mention;
  if (reservedWords.has(name.key)) {
    return {
      code: 'repeated-name',
      severity: 'error',
      entry,
      span: name.span,
      message: `\`${name.text}\` is a word of the notation: give it a name of its own, such as \`${name.text}-1\`.`,
      mends: [{ title: `Name it ${name.text}-1`, edits: [{ span: name.span, text: `${name.text}-1` }] }],
    };
  }
  const [first] = log.names.declarations(name.key);
  if (!first || first === entry) return undefined;
  const kind = log.names.declared(name.key)?.kind ?? 'thing';
  const lot = kind === 'lot' && entry.line.statement?.verb === 'collect';
  return {
    code: 'repeated-name',
    severity: 'error',
    entry,
    span: name.span,
    message: lot
      ? `\`${name.text}\` has been collected: more wood is a new lot, under a name of its own.`
      : `\`${name.text}\` is the name of a ${kind}: a name is given once in the whole log.`,
    related: [
      {
        entry: first,
        span: log.names.declared(name.key) ? firstNameSpan(first) : name.span,
        message: `\`${name.text}\` is declared here.`,
      },
    ],
    // looked for when it is asked for: by then another line may have taken it
    get mends() {
      const free = nextFree(name.text, log);
      return free === undefined ? [] : [{ title: `Name it ${free}`, edits: [{ span: name.span, text: free }] }];
    },
  };
}

/** `K26` goes on to `K27`, `frame` to `frame-2`; nothing where a menu could not show it, or all are taken. */
function nextFree(text: string, log: Names): string | undefined {
  const [, stem = `${text}-`, figures = '1'] = /^(.*?)(\d+)$/.exec(text) ?? [];
  for (let number = Number(figures) + 1; number <= Number(figures) + 100; number++) {
    const free = `${stem}${String(number).padStart(figures.length, '0')}`;
    const key = free.toLowerCase();
    if (log.names.declarations(key).length === 0 && !reservedWords.has(key) && free.length <= 30) return free;
  }
  return undefined;
}

const firstNameSpan = (entry: Entry): Span => entry.line.statement?.sets[0]?.name.span ?? { start: 0, end: 0 };

interface Swallowed {
  readonly place: Name;
  readonly names: readonly Name[];
}

/** Lower-case words behind an undeclared place's name are taken for the rest of that name. */
function restOfPlaceName(entry: Entry, statement: Statement, log: Names): Swallowed | undefined {
  const place = statement.facts.find((fact) => (fact.key === 'in' || fact.key === 'to') && fact.value.kind === 'name');
  if (place?.value.kind !== 'name' || log.names.declared(place.value.name.key)) return undefined;
  const bare = statement.sets
    .slice(1)
    .filter((set) => !set.numbers && !set.count && !set.rest && !set.except)
    .map((set) => set.name);
  const behind = [...bare, ...(statement.spare ?? [])].sort((a, b) => a.span.start - b.span.start);
  const names: Name[] = [];
  let end = place.span.end;
  for (const name of behind) {
    if (name.span.start < end) continue;
    const adjoining = entry.line.text.slice(end, name.span.start).trim() === '';
    if (!adjoining || !/^\p{Ll}/u.test(name.text)) break;
    names.push(name);
    end = name.span.end;
  }
  return names.length > 0 ? { place: place.value.name, names } : undefined;
}

function unknown(
  mention: Mention,
  entry: Entry,
  statement: Statement,
  log: Names,
  swallowed?: Swallowed,
): Finding | undefined {
  const { name, as } = mention;
  const declared = log.names.declared(name.key);
  if (declared && mention.kinds.includes(declared.kind)) return undefined;
  const first = statement.sets[0]?.name === name;
  const bare =
    as === 'target' &&
    mention.set &&
    !mention.set.numbers &&
    !mention.set.count &&
    !mention.set.rest &&
    !mention.set.except;
  if (!declared && bare && !first) return unknownWord(name, entry, statement, log);
  const kind: NameKind =
    as === 'fact'
      ? (mention.kinds[0] ?? 'batch')
      : mention.kinds.length === 1 && mention.kinds[0] === 'place'
        ? 'place'
        : 'batch';
  const wholeName = swallowed?.place === name ? [name, ...swallowed.names] : [name];
  const span = { start: name.span.start, end: wholeName.at(-1)?.span.end ?? name.span.end };
  const hyphened = wholeName.map((part) => part.text).join('-');
  return {
    code: `unknown-${kind}`,
    severity: kind === 'place' || kind === 'tree' ? 'warning' : 'error',
    entry,
    span,
    message: declared
      ? wrongKind(name, declared.kind, as, kind, statement)
      : wholeName.length > 1
        ? `A name holds together: \`${hyphened}\`.`
        : nothingDeclares[kind](name.text),
    get mends() {
      const joined: Mend[] =
        wholeName.length > 1 ? [{ title: `Write ${hyphened}`.slice(0, 40), edits: [{ span, text: hyphened }] }] : [];
      const near = nearName(name, mention.kinds, log);
      if (near) joined.push({ title: `Write ${near}`, edits: [{ span, text: near }] });
      const declare = !declared && wholeName.length === 1 ? declaring(kind, name, entry, log) : undefined;
      return declare ? [...joined, declare] : joined;
    },
  };
}

const nothingDeclares: Record<NameKind, (name: string) => string> = {
  batch: (name) => `No batch \`${name}\` in this log: a line \`batch ${name} …\` says what its grafts are.`,
  place: (name) => `No place \`${name}\` in this log: a line \`place ${name} …\` says what it shelters from.`,
  tree: (name) => `No tree \`${name}\` in this log: a line \`tree ${name} …\` says what it is and where it stands.`,
  lot: (name) => `No lot \`${name}\` in this log: a line \`collect ${name} …\` says when its wood was cut.`,
};

const kindWords: Record<NameKind, string> = { batch: 'grafts', place: 'a place', tree: 'a tree', lot: 'a lot' };

function wrongKind(name: Name, is: NameKind, as: Mention['as'], wanted: NameKind, statement: Statement): string {
  const what = `\`${name.text}\` is a ${is}`;
  if (as === 'fact') return `${what}: here the name of a ${wanted} is due.`;
  const takes = actedOn(statement.verb).map((kind) => kindWords[kind]);
  const words = takes.length > 1 ? `${takes.slice(0, -1).join(', ')} or ${takes.at(-1)}` : takes[0];
  return `${what}: \`${statement.verb}\` is said of ${words}.`;
}

/** A bare word behind the target that no name and no word of the verb explains: a slip in either. */
function unknownWord(name: Name, entry: Entry, statement: Statement, log: Names): Finding {
  const word = nearest(name.text, wordsOf(statement.verb).keys());
  const base = `\`${name.text}\` is no word for a line with \`${statement.verb}\` and no name in this log`;
  return {
    code: 'unknown-word',
    severity: 'error',
    entry,
    span: name.span,
    message: word ? `${base}. Is it \`${word}\`?` : (noCause(name.text, statement.verb) ?? `${base}.`),
    get mends() {
      const near = nearName(name, actedOn(statement.verb), log);
      return [word, near].flatMap((text) =>
        text ? [{ title: `Write ${text}`, edits: [{ span: name.span, text }] }] : [],
      );
    },
  };
}

const nearName = (name: Name, kinds: readonly NameKind[], log: Names): string | undefined =>
  log.names.near(name.key, kinds)?.name;

/** A line that declares the name, below the last of its kind. A lot is declared by the day its wood was cut, which only the grower knows. */
function declaring(kind: NameKind, name: Name, entry: Entry, log: Names): LogMend | undefined {
  if (kind === 'lot') return undefined;
  let last: Entry | undefined;
  for (const declared of log.names.allDeclared(kind))
    if (declared.entry.file === entry.file && declared.entry.rank > (last?.rank ?? 0)) last = declared.entry;
  const text = `${kind} ${name.text}`;
  const first = log.firstLine(entry.file) ?? entry;
  return {
    title: `Declare ${text}`.slice(0, 40),
    edits: [last ? { entry: last, where: 'below', text } : { entry: first, where: 'above', text }],
  };
}

export function secondSite(entry: Entry, first: Entry): Finding {
  const statement = entry.line.statement;
  return {
    code: 'repeated-name',
    severity: 'error',
    entry,
    span: statement?.verbSpan ?? { start: 0, end: entry.line.text.length },
    message: 'A second `site`: one log is one nursery, and the first line holds.',
    related: [
      { entry: first, span: first.line.statement?.verbSpan ?? { start: 0, end: 0 }, message: 'The log’s site.' },
    ],
  };
}
