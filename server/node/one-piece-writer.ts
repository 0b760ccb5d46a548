import {
  AbstractMessageWriter,
  type Diagnostic,
  Message,
  type MessageWriter,
  type NotificationMessage,
  type PublishDiagnosticsParams,
  type ResponseMessage,
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

  async write(message: Message): Promise<void> {
    const parts = isLong(message) ? await inParts(message) : [this.#body(message)];
    const length = parts.reduce((sum, part) => sum + part.length, 0);
    parts.unshift(Buffer.from(`Content-Length: ${length}\r\n\r\n`));
    // a list's parts are long as they are
    const pieces = parts.length > 2 ? parts : [Buffer.concat(parts)];
    const written = pieces.map(
      (piece) =>
        new Promise<void>((done, failed) => {
          this.#stream.write(piece, (error) => (error ? failed(error) : done()));
        }),
    );
    await Promise.all(written);
  }

  #body(message: Message): Buffer {
    if (isTyping(message)) return Buffer.from(this.#findings(message));
    return isColours(message) ? colours(message) : Buffer.from(JSON.stringify(message));
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

/** So many edits are put into JSON at once; of a list that is longer so many at a time. */
const longest = 2000;

interface Long extends ResponseMessage {
  readonly result: readonly object[];
}

const isLong = (message: Message): message is Long =>
  Message.isResponse(message) && Array.isArray(message.result) && message.result.length > longest;

/** The layout of 100,000 lines is 19 MB of JSON: between its parts others are heard and answered. */
async function inParts({ result, ...message }: Long): Promise<Buffer[]> {
  const head = JSON.stringify({ ...message, result: [] }).slice(0, -2);
  const parts = [Buffer.from(head)];
  for (let i = 0; i < result.length; i += longest) {
    const list = JSON.stringify(result.slice(i, i + longest)).slice(1, -1);
    parts.push(Buffer.from(i > 0 ? `,${list}` : list));
    await new Promise((done) => setImmediate(done));
  }
  parts.push(Buffer.from(']}'));
  return parts;
}

interface Colours extends ResponseMessage {
  readonly result: { readonly data: Uint16Array };
}

const isColours = (message: Message): message is Colours =>
  Message.isResponse(message) && (message as Partial<Colours>).result?.data instanceof Uint16Array;

/** The colours of 10,000 lines are 800,000 numbers, nearly all of one or two figures: as bytes at once, without an array of them. */
function colours({ result, ...message }: Colours): Buffer {
  const around = JSON.stringify({ ...message, result: { ...result, data: [] } });
  const inside = around.indexOf('"data":[') + '"data":['.length;
  return Buffer.concat([Buffer.from(around.slice(0, inside)), figures(result.data), Buffer.from(around.slice(inside))]);
}

const [nought, comma] = [48, 44];

function figures(numbers: Uint16Array): Buffer {
  const bytes = Buffer.allocUnsafe(6 * numbers.length);
  let at = 0;
  for (let i = 0; i < numbers.length; i++) {
    const number = numbers[i] as number;
    if (number > 9) {
      if (number > 99) {
        if (number > 999) {
          if (number > 9999) bytes[at++] = nought + Math.trunc(number / 10_000);
          bytes[at++] = nought + (Math.trunc(number / 1000) % 10);
        }
        bytes[at++] = nought + (Math.trunc(number / 100) % 10);
      }
      bytes[at++] = nought + (Math.trunc(number / 10) % 10);
    }
    bytes[at++] = nought + (number % 10);
    bytes[at++] = comma;
  }
  return bytes.subarray(0, Math.max(0, at - 1));
}
