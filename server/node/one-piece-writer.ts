import {
  AbstractMessageWriter,
  type Diagnostic,
  Message,
  type MessageWriter,
  type NotificationMessage,
  type PublishDiagnosticsParams,
} from 'vscode-languageserver/node';

/**
 * Writes a message in one piece. The library's own writer sends head and body apart, each behind a promise: two calls of
 * the system for every key, and a client that wakes up twice. A file's findings are sent whole with every key, and most
 * of them are the objects that were sent before: each is put into JSON once.
 */
export class OnePieceWriter extends AbstractMessageWriter implements MessageWriter {
  readonly #stream: NodeJS.WritableStream;
  readonly #written = new WeakMap<Diagnostic, string>();
  #failed = 0;

  constructor(stream: NodeJS.WritableStream) {
    super();
    this.#stream = stream;
    stream.on('error', (error: Error) => this.fireError(error, undefined, ++this.#failed));
    stream.on('close', () => this.fireClose());
  }

  write(message: Message): Promise<void> {
    const body = Buffer.from(isTyping(message) ? this.#findings(message) : JSON.stringify(message));
    const piece = Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body]);
    return new Promise((done, failed) => {
      this.#stream.write(piece, (error) => (error ? failed(error) : done()));
    });
  }

  #findings({ params, ...message }: Findings): string {
    const list = params.diagnostics.map((diagnostic) => {
      const known = this.#written.get(diagnostic) ?? JSON.stringify(diagnostic);
      this.#written.set(diagnostic, known);
      return known;
    });
    // the list goes last, so that it can take the place of the empty one
    const head = JSON.stringify({ ...message, params: { ...params, diagnostics: undefined } });
    return `${head.slice(0, -2)},"diagnostics":[${list.join(',')}]}}`;
  }

  end(): void {
    this.#stream.end();
  }
}

interface Findings extends NotificationMessage {
  readonly params: PublishDiagnosticsParams & object;
}

/** Findings of a file that is open: only those are sent again and again. */
const isTyping = (message: Message): message is Findings =>
  Message.isNotification(message) &&
  message.method === 'textDocument/publishDiagnostics' &&
  (message as Findings).params.version !== undefined;
