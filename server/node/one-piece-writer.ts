import { AbstractMessageWriter, type Message, type MessageWriter } from 'vscode-languageserver/node';

/**
 * Writes a message in one piece. The library's own writer sends head and body apart, each behind a promise: two calls of
 * the system for every key, and a client that wakes up twice.
 */
export class OnePieceWriter extends AbstractMessageWriter implements MessageWriter {
  readonly #stream: NodeJS.WritableStream;
  #failed = 0;

  constructor(stream: NodeJS.WritableStream) {
    super();
    this.#stream = stream;
    stream.on('error', (error: Error) => this.fireError(error, undefined, ++this.#failed));
    stream.on('close', () => this.fireClose());
  }

  write(message: Message): Promise<void> {
    const body = JSON.stringify(message);
    const piece = `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
    return new Promise((done, failed) => {
      this.#stream.write(piece, 'utf8', (error) => (error ? failed(error) : done()));
    });
  }

  end(): void {
    this.#stream.end();
  }
}
