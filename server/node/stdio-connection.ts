import { type Connection, createConnection, ProposedFeatures, StreamMessageReader } from 'vscode-languageserver/node';
import { OnePieceWriter } from './one-piece-writer.ts';

/** The protocol on standard input and output. What a library prints goes to standard error: a stray word would spoil a message. */
export function stdioConnection(): Connection {
  const { stdin, stdout } = process;
  for (const name of ['log', 'info', 'debug'] as const) console[name] = console.error;
  // an editor that is gone has said no goodbye
  stdin.once('end', () => process.exit(1));
  return createConnection(ProposedFeatures.all, new StreamMessageReader(stdin), new OnePieceWriter(stdout));
}
