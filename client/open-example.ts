import { commands, type ExtensionContext, Uri, workspace } from 'vscode';

const name = 'drumlin-lane';

/**
 * Opens the example nursery that comes with the extension, as a copy of the grower's own: it can be written in, and stays
 * as it was left. Beside an open folder it gets a window of its own, so that it is never part of another log.
 */
export async function openExample(context: ExtensionContext): Promise<void> {
  const copy = Uri.joinPath(context.globalStorageUri, name);
  const there = await workspace.fs.stat(copy).then(
    () => true,
    () => false,
  );
  if (!there) {
    await workspace.fs.createDirectory(context.globalStorageUri);
    await workspace.fs.copy(Uri.joinPath(context.extensionUri, 'examples', name), copy);
  }
  const forceNewWindow = (workspace.workspaceFolders?.length ?? 0) > 0;
  await commands.executeCommand('vscode.openFolder', copy, { forceNewWindow });
}
