import type { Connection, ServerCapabilities } from 'vscode-languageserver';
import type { Asking } from './asking.ts';
import { completion } from './completion.ts';
import { resolved } from './completion-item.ts';
import { dayLine } from './day-line.ts';
import { formatting, onTypeFormatting } from './formatting.ts';
import { inlineCompletion } from './inline-completion.ts';
import { photoLine } from './photo-line.ts';
import {
  type DayLineParams,
  DayLineRequest,
  type DayLineResult,
  type PhotoParams,
  PhotoRequest,
  type PhotoResult,
  type SplitParams,
  SplitRequest,
  type SplitResult,
} from './protocol.ts';
import { resolvedAction, splitNamed } from './refactor.ts';
import { signatureHelp } from './signature-help.ts';

/** What serves writing a log. */
export const writingCapabilities: ServerCapabilities = {
  completionProvider: { triggerCharacters: [' ', '.'], resolveProvider: true },
  inlineCompletionProvider: true,
  signatureHelpProvider: { triggerCharacters: [' '], retriggerCharacters: [' '] },
  documentFormattingProvider: true,
  documentRangeFormattingProvider: true,
  documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' },
};

interface Client {
  readonly snippets: boolean;
  readonly markdown: boolean;
}

/** @param client as it said on starting, which is after this */
export function registerWriting(connection: Connection, asking: Asking, client: () => Client): void {
  connection.onCompletion(
    asking.file(null, (view, { position, context }) =>
      completion(view, position, { snippets: client().snippets, trigger: context?.triggerCharacter }),
    ),
  );
  connection.onCompletionResolve(async (item) => {
    const uri: string | undefined = item.data?.uri;
    return uri === undefined ? item : resolved(item, await asking.view(uri), client().markdown);
  });
  connection.languages.inlineCompletion.on(asking.file([], (view, { position }) => inlineCompletion(view, position)));
  connection.onSignatureHelp(
    asking.file(null, (view, { position, context }) => signatureHelp(view, position, context)),
  );
  connection.onDocumentFormatting(asking.slices([], (view) => formatting(view)));
  connection.onDocumentRangeFormatting(
    asking.slices([], (view, { range }) => formatting(view, range.start.line, range.end.line)),
  );
  connection.onDocumentOnTypeFormatting(asking.slices([], (view, { position }) => onTypeFormatting(view, position)));
  connection.onRequest(DayLineRequest, async ({ uri, line }: DayLineParams): Promise<DayLineResult | null> => {
    // its day is known once its folder is read
    await asking.workspace.rootOf(uri)?.whenRead();
    const view = await asking.view(uri);
    return view ? dayLine(view, line) : null;
  });
  connection.onRequest<PhotoResult, void>(PhotoRequest, async ({ uri, line, files }: PhotoParams) => {
    const view = await asking.view(uri);
    return view ? photoLine(view, line, files) : null;
  });
  connection.onCodeActionResolve(async (action) => {
    const uri: string | undefined = action.data?.uri;
    const view = uri === undefined ? undefined : await asking.view(uri);
    return view ? resolvedAction(action, view) : action;
  });
  connection.onRequest<SplitResult, void>(SplitRequest, async (params: SplitParams) => {
    const view = await asking.view(params.uri);
    return view ? splitNamed(view, params) : null;
  });
}
