import getAccessibility from '@codingame/monaco-vscode-accessibility-service-override';
import { ExtensionHostKind, registerExtension } from '@codingame/monaco-vscode-api/extensions';
import { getService, IWalkthroughsService, initialize } from '@codingame/monaco-vscode-api/services';
import getConfiguration, { initUserConfiguration } from '@codingame/monaco-vscode-configuration-service-override';
import getDialogs from '@codingame/monaco-vscode-dialogs-service-override';
import getExplorer from '@codingame/monaco-vscode-explorer-service-override';
import getExtensions from '@codingame/monaco-vscode-extensions-service-override';
import getFiles, {
  createIndexedDBProviders,
  InMemoryFileSystemProvider,
  registerCustomProvider,
} from '@codingame/monaco-vscode-files-service-override';
import getKeybindings from '@codingame/monaco-vscode-keybindings-service-override';
import getLanguages from '@codingame/monaco-vscode-languages-service-override';
import getLifecycle from '@codingame/monaco-vscode-lifecycle-service-override';
import getLog from '@codingame/monaco-vscode-log-service-override';
import getMarkers from '@codingame/monaco-vscode-markers-service-override';
import getModel from '@codingame/monaco-vscode-model-service-override';
import getNotifications from '@codingame/monaco-vscode-notifications-service-override';
import getOutline from '@codingame/monaco-vscode-outline-service-override';
import getOutput from '@codingame/monaco-vscode-output-service-override';
import getPreferences from '@codingame/monaco-vscode-preferences-service-override';
import getQuickAccess from '@codingame/monaco-vscode-quickaccess-service-override';
import getSearch from '@codingame/monaco-vscode-search-service-override';
import getStorage from '@codingame/monaco-vscode-storage-service-override';
import getTextmate from '@codingame/monaco-vscode-textmate-service-override';
import getTheme from '@codingame/monaco-vscode-theme-service-override';
import getStatusBar from '@codingame/monaco-vscode-view-status-bar-service-override';
import getTitleBar from '@codingame/monaco-vscode-view-title-bar-service-override';
import getWalkthrough from '@codingame/monaco-vscode-walkthrough-service-override';
import getWorkbench from '@codingame/monaco-vscode-workbench-service-override';
import getWorkingCopy from '@codingame/monaco-vscode-working-copy-service-override';
import '@codingame/monaco-vscode-theme-defaults-default-extension';
import '@codingame/monaco-vscode-theme-seti-default-extension';
// What an empty view says; the rest of that package greets users of another editor.
import '@codingame/monaco-vscode-welcome-service-override/vscode/vs/workbench/contrib/welcomeViews/common/viewsWelcome.contribution';
import { URI } from '@codingame/monaco-vscode-api/vscode/vs/base/common/uri';
import editorWorker from '@codingame/monaco-vscode-api/workers/editor.worker?worker&url';
import extensionHostWorker from '@codingame/monaco-vscode-api/workers/extensionHost.worker?worker&url';
import outputWorker from '@codingame/monaco-vscode-output-service-override/worker?worker&url';
import textmateWorker from '@codingame/monaco-vscode-textmate-service-override/worker?worker&url';
import { Disk } from './disk.ts';

/** What the local server tells first. */
interface Boot {
  /** Full path of the folder with `/`: what lies in the browser's storage is kept for each folder apart. */
  readonly root: string;
  readonly name: string;
  /** Name of the log to open. */
  readonly first: string | null;
  /** Files of the extension, as its manifest names them. */
  readonly files: readonly string[];
  readonly manifest: Parameters<typeof registerExtension>[0];
}

const workers: Record<string, string> = {
  editorWorkerService: editorWorker,
  extensionHostWorkerMain: extensionHostWorker,
  TextMateWorker: textmateWorker,
  OutputLinkDetectionWorker: outputWorker,
};
Object.assign(window, {
  MonacoEnvironment: {
    getWorkerOptions: () => ({ type: 'module' }),
    getWorkerUrl: (_: unknown, label: string) =>
      workers[label] ? new URL(workers[label], location.href).href : undefined,
  },
});

const types: Record<string, string> = {
  js: 'text/javascript',
  json: 'application/json',
  svg: 'image/svg+xml',
  png: 'image/png',
  md: 'text/markdown',
  graft: 'text/plain',
};

const base = new URL('.', location.href).href;
const boot: Boot = await (await fetch(`${base}boot`)).json();
document.title = `${boot.name} – Graft Log`;
// Unsaved text and settings lie in the browser's storage and survive a reload; the workbench's own logs needn't.
await createIndexedDBProviders();
registerCustomProvider('vscode-log', new InMemoryFileSystemProvider());
registerCustomProvider('file', new Disk(base, boot.root));

await initUserConfiguration(
  JSON.stringify({
    'workbench.startupEditor': 'none',
    'workbench.colorTheme': 'Dark Modern',
    'workbench.tips.enabled': false,
    'editor.minimap.enabled': false,
    'files.autoSave': 'off',
    'telemetry.telemetryLevel': 'off',
  }),
);
const extension = registerExtension(boot.manifest, ExtensionHostKind.LocalWebWorker, { path: '/graftlog' });
for (const file of boot.files) {
  const type = types[file.split('.').at(-1) ?? ''];
  extension.registerFileUrl(`/${file}`, `${base}ext/${file}`, type ? { mimeType: type } : undefined);
}

const element = document.getElementById('workbench') as HTMLElement;
await initialize(
  {
    ...getLog(),
    ...getFiles(),
    ...getExtensions({ enableWorkerExtensionHost: true }),
    ...getConfiguration(),
    ...getKeybindings(),
    ...getTheme(),
    ...getTextmate(),
    ...getLanguages(),
    ...getMarkers(),
    ...getExplorer(),
    ...getModel(),
    ...getNotifications(),
    ...getDialogs(),
    ...getStorage(),
    ...getPreferences(),
    ...getOutline(),
    ...getWorkingCopy(),
    ...getWalkthrough(),
    ...getStatusBar(),
    ...getTitleBar(),
    ...getSearch(),
    ...getOutput(),
    ...getLifecycle(),
    ...getAccessibility(),
    ...getWorkbench(),
    ...getQuickAccess({ isKeybindingConfigurationVisible: () => true, shouldUseGlobalPicker: () => true }),
  },
  element,
  {
    enableWorkspaceTrust: false,
    workspaceProvider: { trusted: true, open: async () => false, workspace: { folderUri: URI.file(boot.root) } },
    defaultLayout: { editors: boot.first ? [{ uri: URI.file(`${boot.root}/${boot.first}`) }] : [], force: true },
  },
);

await extension.whenReady();

// This build registers no walkthroughs of extensions by itself.
const id = `${boot.manifest.publisher}.${boot.manifest.name}`;
const walkthroughs = (await getService(IWalkthroughsService)) as unknown as {
  registerExtensionWalkthroughContributions(extension: object): Promise<void>;
};
await walkthroughs.registerExtensionWalkthroughContributions({
  ...boot.manifest,
  identifier: { value: id },
  extensionLocation: URI.from({ scheme: 'extension-file', authority: id, path: '/graftlog' }),
});
