import { workspace } from 'vscode';
import type { LanguageClientOptions } from 'vscode-languageclient';
import { type InitializationOptions, settingsSection } from '#server/lsp/protocol.ts';
import { hintsMiddleware } from './hints.ts';
import { logsOnly } from './logs-only.ts';
import { serverEnds } from './server-ends.ts';

/** No scheme is named: logs on virtual file systems and untitled ones are logs, too; what is none is left out by `logsOnly`. */
export function clientOptions(): LanguageClientOptions {
  return {
    documentSelector: [{ language: 'graft' }],
    synchronize: {
      fileEvents: workspace.createFileSystemWatcher('**/*.graft'),
      configurationSection: settingsSection,
    },
    // asked with each start: a folder may be trusted by then
    initializationOptions: (): InitializationOptions => ({
      supportsPages: true,
      followsCaret: true,
      trusted: workspace.isTrusted,
    }),
    errorHandler: serverEnds(),
    middleware: { ...hintsMiddleware, ...logsOnly },
  };
}
