// The least a language server can do: it keeps no text and answers each change with the same findings.
// `--findings N`: so many of them, as a list is sent whole.
import { createRequire } from 'node:module';

const { createConnection, ProposedFeatures, TextDocumentSyncKind } = createRequire(import.meta.url)(
  'vscode-languageserver/node',
);
const asked = process.argv.indexOf('--findings');
const diagnostics = Array.from({ length: asked < 0 ? 1 : Number(process.argv[asked + 1]) }, (_, line) => ({
  range: { start: { line, character: 0 }, end: { line, character: 1 } },
  severity: 3,
  code: 'cut-shallow',
  message: 'A sentence about as long as a finding is, and always the same.',
}));
const connection = createConnection(ProposedFeatures.all, process.stdin, process.stdout);
/** @param {{ uri: string, version: number }} document */
const answer = ({ uri, version }) => connection.sendDiagnostics({ uri, version, diagnostics });
connection.onInitialize(() => ({
  capabilities: { textDocumentSync: TextDocumentSyncKind.Incremental, hoverProvider: true },
}));
connection.onHover(() => ({ contents: 'always the same' }));
connection.onDidOpenTextDocument(({ textDocument }) => answer(textDocument));
connection.onDidChangeTextDocument(({ textDocument }) => answer(textDocument));
connection.listen();
