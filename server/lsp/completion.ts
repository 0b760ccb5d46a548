import { type CompletionItem, CompletionItemKind, InsertTextFormat } from 'vscode-languageserver';
import { factOffers, type Offer, valueOffers, verbOffers } from '#grammar/completion-data.ts';
import type { Position } from '#grammar/document.ts';
import { readLine } from '#grammar/line.ts';
import type { Statement } from '#grammar/statement.ts';
import { type Key, keyRow, type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { NameKind } from '#server/engine/model.ts';
import { entryAt, type FileView } from './feature.ts';

/** Verbs at a line's start, the names a verb may act on, the facts not given yet; nothing inside remarks and texts. */
export function completion(view: FileView, position: Position, options: { snippets: boolean }): CompletionItem[] {
  const entry = entryAt(view, position);
  const text = entry?.line.text ?? '';
  const before = text.slice(0, position.character);
  const behind = text.slice(position.character);
  if (/^[\p{L}\p{N}]/u.test(behind) || inText(before)) return [];
  const start = /^\s*(?:\d{4}-\d{2}-\d{2}\s+)?(?:\d{1,2}:\d{2}\s+)?(\p{L}*)$/u.exec(before);
  if (start)
    return [...nextGraft(view, position, before, behind), ...verbOffers().map((offer) => toItem(offer, options, '0'))];
  const word = /[\p{L}\p{M}\p{N}_.'-]*$/u.exec(before)?.[0] ?? '';
  const head = readLine(before.slice(0, before.length - word.length)).statement;
  if (!head || /^\d/.test(word)) return [];
  const due = keyBefore(before, word, head.verb);
  if (due) return valueItems(view, due, options);
  if (head.verb === 'accept' && !head.codes) return valueItems(view, 'accept', options);
  if (head.sets.length === 0 && verbRow(head.verb).operand !== 'name') return nameItems(view, targets(head.verb));
  const given = new Set<Key>(head.facts.map((fact) => fact.key));
  return factOffers(head.verb, given).map((offer) => toItem(offer, options, '1'));
}

/** Inside a remark, a text or a cultivar nothing is offered. */
function inText(before: string): boolean {
  const line = readLine(before);
  if (line.comment) return true;
  const quotes = before.replaceAll('""', '').split('"').length - 1;
  return quotes % 2 === 1;
}

/** `in |`, `by |`: a key that waits for its value. */
function keyBefore(before: string, word: string, verb: Verb): Key | undefined {
  const head = before.slice(0, before.length - word.length).trimEnd();
  const key = /([\p{L}-]+)$/u.exec(head)?.[1];
  if (!key || !(key in keyTable(verb))) return undefined;
  return key as Key;
}

function keyTable(verb: Verb): Record<string, true> {
  return Object.fromEntries(
    factOffers(verb, new Set())
      .filter((offer) => offer.kind === 'fact')
      .map((offer) => [offer.label, true]),
  );
}

function valueItems(view: FileView, key: Key, options: { snippets: boolean }): CompletionItem[] {
  const row = keyRow(key);
  if (row.of) return nameItems(view, [row.of]);
  if (key === 'by') return hands(view).map((label) => ({ label, kind: CompletionItemKind.Value }));
  return valueOffers(key).map((offer) => toItem(offer, options, '0'));
}

const targets = (verb: Verb): NameKind[] =>
  (verbRow(verb).acts ?? []).map((kind) => (kind === 'graft' ? 'batch' : kind));
const nameKinds = {
  batch: CompletionItemKind.Class,
  place: CompletionItemKind.Field,
  tree: CompletionItemKind.Struct,
  lot: CompletionItemKind.Module,
};

function nameItems({ root }: FileView, kinds: readonly NameKind[]): CompletionItem[] {
  const items: CompletionItem[] = [];
  for (const kind of kinds)
    for (const declared of root.log.names.allDeclared(kind))
      items.push({
        label: declared.name,
        kind: nameKinds[kind],
        detail: kind,
        documentation: declared.entry.line.text.trim(),
      });
  return items;
}

/** People are never declared: those who stand on the lines of this file, the last ones first. */
function hands({ document }: FileView): string[] {
  const found = new Set<string>();
  const { entries } = document;
  for (let i = entries.length - 1; i >= 0 && i > entries.length - 2000; i--)
    for (const { key, value } of entries[i]?.line.statement?.facts ?? [])
      if (key === 'by' && value.kind === 'names') for (const name of value.names) found.add(name.text);
  return [...found];
}

/** On the line below `graft K26.12` the next one is offered, with the facts of the last. */
function nextGraft({ document, root }: FileView, position: Position, before: string, behind: string): CompletionItem[] {
  if (/\S/.test(behind)) return [];
  const above = document.entries[position.line - 1]?.line;
  const set = above?.statement?.verb === 'graft' ? above.statement.sets[0] : undefined;
  if (!above?.statement || !set?.numbers) return [];
  const made = root.answers.histories
    .of(set.name.key)
    .cohorts.reduce((most, cohort) => Math.max(most, cohort.numbers.at(-1) ?? 0), set.numbers.at(-1) ?? 0);
  const facts = factsText(above.text, above.statement);
  const label = `graft ${set.name.text}.${made + 1}`;
  const indent = /^\s*(?:\d{4}-\d{2}-\d{2}\s+)?/.exec(before)?.[0] ?? '';
  const range = { start: { line: position.line, character: indent.length }, end: position };
  return [
    {
      label,
      kind: CompletionItemKind.Snippet,
      detail: 'the next one, like the line above',
      sortText: '!',
      preselect: true,
      filterText: label,
      textEdit: { range, newText: `${label}${facts}` },
    },
  ];
}

function factsText(text: string, statement: Statement): string {
  const kept = statement.facts.filter(
    (fact) => !fact.lost && fact.key !== 'photo' && fact.key !== 'accept' && fact.key !== 'branch',
  );
  return kept.map((fact) => `  ${text.slice(fact.span.start, fact.span.end)}`).join('');
}

const itemKinds = {
  verb: CompletionItemKind.Keyword,
  fact: CompletionItemKind.Property,
  flag: CompletionItemKind.EnumMember,
  choice: CompletionItemKind.EnumMember,
};

function toItem(offer: Offer, options: { snippets: boolean }, sort: string): CompletionItem {
  return {
    label: offer.label,
    kind: itemKinds[offer.kind],
    documentation: { kind: 'markdown', value: `${offer.help}\n\n\`\`\`graft\n${offer.example}\n\`\`\`` },
    sortText: `${sort}${offer.label}`,
    ...(offer.snippet && options.snippets
      ? { insertText: offer.snippet, insertTextFormat: InsertTextFormat.Snippet }
      : {}),
  };
}
