import { type TextDocument, workspace } from 'vscode';
import type { Middleware } from 'vscode-languageclient';
import { pageScheme } from '#server/lsp/protocol.ts';

/**
 * An older version beside a newer one, and the preview of a change, are texts in the same notation under another
 * scheme: read as logs of their own they would have findings for batches that stand elsewhere. The shipped practice is
 * complete in itself.
 */
const isLog = ({ uri }: TextDocument): boolean =>
  uri.scheme === 'file' ||
  uri.scheme === 'untitled' ||
  uri.scheme === pageScheme ||
  workspace.getWorkspaceFolder(uri) !== undefined ||
  workspace.fs.isWritableFileSystem(uri.scheme) === true;

export const logsOnly: Pick<Middleware, 'didOpen'> = {
  didOpen: async (document, next) => {
    if (isLog(document)) await next(document);
  },
};
