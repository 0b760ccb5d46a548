// A client that types and listens: a server process over stdio, and what that process has used so far.
import { spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';

/** CPU time (ms), memory now and at its peak (MiB) of a process; nothing where there is no /proc. @param {number} pid */
export function usage(pid) {
  try {
    const status = readFileSync(`/proc/${pid}/status`, 'utf8');
    const mib = (/** @type {RegExp} */ row) => Number(row.exec(status)?.[1] ?? 0) / 1024;
    let cpu = 0;
    for (const task of readdirSync(`/proc/${pid}/task`))
      cpu += Number(readFileSync(`/proc/${pid}/task/${task}/schedstat`, 'utf8').split(' ')[0]) / 1e6;
    return { cpu, rss: mib(/VmRSS:\s+(\d+)/), peak: mib(/VmHWM:\s+(\d+)/) };
  } catch {
    return { cpu: 0, rss: 0, peak: 0 };
  }
}

export class Client {
  /** @param {string[]} command */
  constructor(command) {
    this.started = performance.now();
    this.child = spawn(command[0], command.slice(1), { stdio: ['pipe', 'pipe', 'inherit'] });
    this.id = 0;
    this.version = 1;
    /** @type {Map<number, (result: unknown) => void>} */
    this.asked = new Map();
    /** @type {((params: { uri: string, version?: number, diagnostics: unknown[] }) => void)[]} */
    this.listening = [];
    this.held = Buffer.alloc(0);
    this.child.stdout.on('data', (piece) => this.take(piece));
  }

  /** @param {Buffer} piece */
  take(piece) {
    this.held = Buffer.concat([this.held, piece]);
    for (;;) {
      const end = this.held.indexOf('\r\n\r\n');
      if (end < 0) return;
      const length = Number(/content-length: *(\d+)/i.exec(this.held.toString('latin1', 0, end))?.[1]);
      if (this.held.length < end + 4 + length) return;
      const message = JSON.parse(this.held.toString('utf8', end + 4, end + 4 + length));
      this.held = this.held.subarray(end + 4 + length);
      this.receive(message);
    }
  }

  /** @param {{ id?: number, method?: string, params?: any, result?: unknown }} message */
  receive({ id, method, params, result }) {
    if (method && id !== undefined)
      this.send({ id, result: method === 'workspace/configuration' ? params.items.map(() => null) : null });
    else if (method === 'textDocument/publishDiagnostics') for (const hear of this.listening) hear(params);
    else if (id !== undefined) {
      this.asked.get(id)?.(result);
      this.asked.delete(id);
    }
  }

  /** @param {object} message */
  send(message) {
    const body = JSON.stringify({ jsonrpc: '2.0', ...message });
    this.child.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
  }

  /** @param {string} method @param {object} params @returns {Promise<any>} */
  request(method, params) {
    const id = ++this.id;
    return new Promise((done) => {
      this.asked.set(id, done);
      this.send({ id, method, params });
    });
  }

  /** @param {string} root */
  async initialize(root) {
    await this.request('initialize', {
      processId: process.pid,
      rootUri: root,
      workspaceFolders: [{ uri: root, name: 'bench' }],
      capabilities: { textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } } },
    });
    this.send({ method: 'initialized', params: {} });
    return performance.now() - this.started;
  }

  /** Resolves with the findings of a file, in that version or a later one. @param {string} uri @param {number} version */
  findings(uri, version) {
    return new Promise((done) => {
      const hear = (/** @type {{ uri: string, version?: number, diagnostics: unknown[] }} */ params) => {
        if (params.uri !== uri || (params.version ?? 0) < version) return;
        this.listening.splice(this.listening.indexOf(hear), 1);
        done(params.diagnostics);
      };
      this.listening.push(hear);
    });
  }

  /** @param {string} uri @param {string} text */
  open(uri, text) {
    const shown = this.findings(uri, this.version);
    const { version } = this;
    this.send({
      method: 'textDocument/didOpen',
      params: { textDocument: { uri, languageId: 'graft', version, text } },
    });
    return shown;
  }

  /** Types, and resolves with the ms until its findings were shown. @param {string} uri @param {object} range @param {string} text */
  async type(uri, range, text) {
    const version = ++this.version;
    const shown = this.findings(uri, version);
    const sent = performance.now();
    const params = { textDocument: { uri, version }, contentChanges: [{ range, text }] };
    this.send({ method: 'textDocument/didChange', params });
    await shown;
    return performance.now() - sent;
  }

  async stop() {
    await this.request('shutdown', {});
    this.send({ method: 'exit' });
    this.child.stdin.end();
    await new Promise((done) => this.child.once('exit', done));
  }
}
