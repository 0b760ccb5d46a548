import { getService, IEditorService, ITextFileService } from '@codingame/monaco-vscode-api/services';
import { URI } from '@codingame/monaco-vscode-api/vscode/vs/base/common/uri';

const prefix = 'graftlog.unsaved:';

/**
 * Unsaved text survives a reload or a closed tab: this build of the workbench keeps no backups of its own, so what is
 * typed and not saved yet lies in the browser's storage, and is put back into its file as unsaved text.
 */
export async function keepUnsaved(root: string): Promise<void> {
  const texts = await getService(ITextFileService);
  const editors = await getService(IEditorService);
  const mine = `${prefix}${root}/`;
  for (const key of Object.keys(localStorage).filter((name) => name.startsWith(mine))) {
    const uri = URI.file(key.slice(prefix.length));
    const text = localStorage.getItem(key);
    try {
      await editors.openEditor({ resource: uri, options: { pinned: true } });
      const model = texts.files.get(uri)?.textEditorModel;
      if (model && text !== null && model.getValue() !== text)
        model.pushEditOperations([], [{ range: model.getFullModelRange(), text }], () => null);
      else localStorage.removeItem(key);
    } catch {
      // the file is gone: its text stays in the browser's storage until it is back
    }
  }
  const keep = (uri: URI) => {
    const file = texts.files.get(uri);
    if (file?.isDirty() && file.textEditorModel)
      localStorage.setItem(prefix + uri.path, file.textEditorModel.getValue());
    else localStorage.removeItem(prefix + uri.path);
  };
  texts.files.onDidChangeDirty((file) => keep(file.resource));
  const keepAll = () => {
    for (const file of texts.files.models) if (file.isDirty()) keep(file.resource);
  };
  let waiting: ReturnType<typeof setTimeout> | undefined;
  const soon = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => keepAll(), 300);
  };
  document.addEventListener('keyup', soon, true);
  addEventListener('pagehide', () => keepAll());
}
