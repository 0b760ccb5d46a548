import type {
  AnnotatedTextEdit,
  ChangeAnnotation,
  Range,
  TextDocumentEdit,
  WorkspaceEdit,
} from 'vscode-languageserver';
import type { Position } from '#grammar/document.ts';
import { countText } from '#server/engine/say.ts';
import { entryAt, type FileView, inside, type Slices } from './feature.ts';
import { type Named, nameAt } from './name-at.ts';
import { checkedName, isTaken } from './new-name.ts';
import { refused } from './refused.ts';
import { type Change, changesFor } from './rename-lines.ts';
import { toRange } from './to-protocol.ts';

export interface RenameOptions {
  /** The client asks first what would be renamed. */
  readonly prepares: boolean;
  /** Edits may name the version of a text they are for. */
  readonly versions: boolean;
  /** The client shows why each edit is made, and asks where it should. */
  readonly annotations: boolean;
}

/** What F2 would rename: batch, place, tree, lot or hand. Says in a sentence why it can't be. */
export function prepareRename(view: FileView, position: Position): { range: Range; placeholder: string } {
  const { entry, named } = namedAt(view, position);
  return { range: toRange(view.root, entry, named.name.span), placeholder: named.name.text };
}

/**
 * One name for another on all lines of the log, in every file. A line that would be read otherwise under the new name
 * stops it all. Yields between many lines, and gives files that aren't open back to be read anew first.
 * @param reread takes a file's text from the disk again
 */
export function* rename(
  view: FileView,
  position: Position,
  newName: string,
  options: RenameOptions,
  reread: (uri: string) => Promise<unknown>,
): Slices<WorkspaceEdit | null> {
  const { root } = view;
  // a name in a file still to be read would keep the old one
  if (root.loading) yield root.whenRead();
  if (root.stopped)
    throw refused(
      'The folder was not read to its end: in the files left out the old name would stay. Read it again first.',
    );
  const { named } = namedAt(view, position);
  const text = checkedName(newName, named.as === 'hand');
  const taken = isTaken(root.log, named, text);
  // two hands that turn out to be one are a matter to ask about; two things never become one
  if (taken && !(named.as === 'hand' && options.annotations)) throw refused(taken);
  let changes = yield* changesFor(root, named, text, options.annotations);
  const closed = [...changes.keys()].filter((file) => !root.open.has(file));
  if (closed.length > 0) {
    for (const file of closed) yield reread(root.uriOf(file));
    changes = yield* changesFor(root, named, text, options.annotations);
  }
  if (changes.size === 0) return null;
  return toWorkspaceEdit(root, changes, options, annotationsOf(named, text, changes, { taken, unread: root.unread }));
}

function namedAt(view: FileView, position: Position) {
  const entry = entryAt(view, position);
  const named = entry && nameAt(entry, position.character);
  if (entry && named && (named.on === 'name' || named.as === 'hand')) return { entry, named };
  throw refused(whyNot(entry, position.character, named));
}

function whyNot(entry: ReturnType<typeof entryAt>, character: number, named: Named | undefined): string {
  if (named?.on === 'numbers')
    return `A graft’s number is for life: the label says it, too. To rename the batch, stand on \`${named.name.text}\`.`;
  const { statement } = entry?.line ?? {};
  if (statement?.verb === 'site' && statement.sets.some(({ name }) => inside(name.span, character)))
    return 'The site’s name stands on this line alone: type over it.';
  if (statement && inside(statement.verbSpan, character)) return wordOfNotation(statement.verb);
  if (statement?.taxa && inside(statement.taxa.span, character))
    return 'A plant is named on each line that tells it: write it anew there.';
  const fact = statement?.facts.find(({ span }) => inside(span, character));
  if (fact) return wordOfNotation(entry?.line.text.slice(fact.span.start, fact.span.end) ?? fact.key);
  return 'Batches, places, trees, lots and hands can be renamed: stand on one of their names.';
}

const wordOfNotation = (words: string) =>
  `\`${words}\` says the same in every log. Batches, places, trees, lots and hands can be renamed.`;

type Annotations = Readonly<Record<Change['why'], ChangeAnnotation>>;

function annotationsOf(
  { name }: Named,
  text: string,
  changes: ReadonlyMap<string, readonly Change[]>,
  { taken, unread }: { readonly taken: string | undefined; readonly unread: ReadonlySet<string> },
): Annotations {
  const lines = [...changes.values()].flat().filter(({ why }) => why === 'name').length;
  const label = `Rename ${name.text} to ${text}`;
  const where = `${countText(lines, 'place')} in ${countText(changes.size, 'file')}`;
  const asked =
    taken ?? (unread.size > 0 ? `${[...unread].join(', ')} could not be read and would keep the old name.` : undefined);
  return {
    name: { label, description: asked ?? where, ...(asked ? { needsConfirmation: true } : {}) },
    remark: {
      label: `${name.text} in remarks and comments`,
      description: 'The same word in free text: is it the same thing?',
      needsConfirmation: true,
    },
  };
}

function toWorkspaceEdit(
  root: FileView['root'],
  changes: ReadonlyMap<string, readonly Change[]>,
  options: RenameOptions,
  annotations: Annotations,
): WorkspaceEdit {
  const edits = [...changes].map(([file, list]) => ({
    file,
    uri: root.uriOf(file),
    edits: list.map(
      ({ entry, span, text, why }): AnnotatedTextEdit => ({
        range: toRange(root, entry, span),
        newText: text,
        annotationId: why,
      }),
    ),
  }));
  const plain = (list: readonly AnnotatedTextEdit[]) => list.map(({ range, newText }) => ({ range, newText }));
  if (!options.versions)
    return { changes: Object.fromEntries(edits.map(({ uri, edits: list }) => [uri, plain(list)])) };
  const documentChanges = edits.map(
    ({ file, uri, edits: list }): TextDocumentEdit => ({
      textDocument: { uri, version: root.open.get(file) ?? null },
      edits: options.annotations ? list : plain(list),
    }),
  );
  if (!options.annotations) return { documentChanges };
  const used = new Set([...changes.values()].flat().map(({ why }) => why));
  return {
    documentChanges,
    changeAnnotations: Object.fromEntries(Object.entries(annotations).filter(([why]) => used.has(why as never))),
  };
}
