import {
  type CompletionItem,
  CompletionItemKind,
  InsertTextFormat,
  type MarkupContent,
  MarkupKind,
  type Range,
} from 'vscode-languageserver';
import { codes, isCode } from '#grammar/codes.ts';
import { normalize } from '#grammar/values/intervals.ts';
import { type Key, keyRow, type Verb, verbRow } from '#grammar/vocabulary.ts';
import type { FileView } from './feature.ts';
import { placeHover, setHover } from './hover-set.ts';
import { plainText } from './markdown.ts';

/** What an offer is, so that its help can be told when it is looked at. */
interface About {
  readonly of: 'verb' | 'key' | 'name' | 'code';
  readonly word: string;
}

/** A word, name or figure that may be written at the caret. */
export interface Candidate {
  readonly label: string;
  readonly kind: CompletionItemKind;
  /** What is put in, where that is more than the label. */
  readonly text?: string;
  /** The same with a place to fill in, for editors that have such. */
  readonly snippet?: string;
  /** In a few words beside it: why it is offered. */
  readonly note?: string;
  readonly about?: About;
}

export const nameKinds = {
  batch: CompletionItemKind.Class,
  place: CompletionItemKind.Field,
  tree: CompletionItemKind.Struct,
  lot: CompletionItemKind.Module,
} as const;

export interface ItemOptions {
  readonly snippets: boolean;
}

/** In the order given; no character but Enter and Tab takes one, so that a blank never changes what was typed. */
export function toItem(
  { label, kind, text, snippet, note, about }: Candidate,
  at: { readonly uri: string; readonly range: Range; readonly order: number; readonly filter?: string },
  { snippets }: ItemOptions,
): CompletionItem {
  const filled = snippets && snippet !== undefined;
  return {
    label,
    kind,
    sortText: String(at.order).padStart(4, '0'),
    textEdit: { range: at.range, newText: filled ? snippet : (text ?? label) },
    commitCharacters: [],
    ...(filled ? { insertTextFormat: InsertTextFormat.Snippet } : {}),
    ...(note ? { labelDetails: { description: note } } : {}),
    ...(at.filter === undefined ? {} : { filterText: at.filter }),
    ...(about ? { data: { uri: at.uri, ...about } } : {}),
  };
}

/** Help for the item that is looked at; most never are. */
export function resolved(item: CompletionItem, view: FileView | undefined, markdown: boolean): CompletionItem {
  const about = item.data as About | undefined;
  if (!about) return item;
  const lines = about.of === 'name' ? (view ? nameLines(view, about.word) : []) : wordLines(about);
  if (lines.length === 0) return item;
  const value = lines.join('\n\n');
  const documentation: MarkupContent = markdown
    ? { kind: MarkupKind.Markdown, value }
    : { kind: MarkupKind.PlainText, value: plainText(value) };
  return { ...item, documentation };
}

function nameLines(view: FileView, key: string): string[] {
  const declared = view.root.log.names.declared(key);
  if (declared && declared.kind !== 'batch') return placeHover(view, declared);
  // asked for with each step through the list: told as a set, without the figures of all other batches of its pair
  const { cohorts } = view.root.answers.histories.of(key);
  return setHover(view, key, normalize(cohorts.flatMap(({ numbers }) => numbers)));
}

function wordLines({ of, word }: About): string[] {
  if (of === 'code') return isCode(word) ? [`${codes[word].title}.`] : [];
  const { help, example } = of === 'verb' ? verbRow(word as Verb) : keyRow(word as Key);
  return example ? [help, `\`\`\`graft\n${example}\n\`\`\``] : [help];
}
