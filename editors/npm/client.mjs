// A client made of the protocol's reference implementation: it starts the server, keeps
// the texts of open documents, and does what the server asks of it.
import { spawn } from "node:child_process";
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";

// where `npm ci` put the packages
const require = createRequire(process.env.STINT_TEST_MODULES + "/");
const { createProtocolConnection, StreamMessageReader, StreamMessageWriter } = require("vscode-languageserver-protocol/node");

/** How long to wait for what has to come, in ms. */
const patience = 20_000;

export class Client {
  documents = new Map(); // uri -> {text, version}
  diagnostics = new Map(); // uri -> the last ones sent
  registered = new Map(); // id -> registration
  settings = {};
  asked = []; // methods that the server asked for
  stderr = "";

  constructor(command) {
    this.child = spawn(command, ["lsp"], { stdio: ["pipe", "pipe", "pipe"] });
    this.exited = new Promise((done) => this.child.on("exit", (code, signal) => done(code ?? signal)));
    this.child.stderr.on("data", (d) => (this.stderr += d));
    const c = createProtocolConnection(new StreamMessageReader(this.child.stdout), new StreamMessageWriter(this.child.stdin));
    this.connection = c;
    c.onError((e) => console.error("connection:", e));
    c.onNotification("textDocument/publishDiagnostics", (p) => this.diagnostics.set(p.uri, p.diagnostics));
    c.onNotification("window/logMessage", () => {});
    c.onNotification("window/showMessage", () => {});
    const answer = (method, f) =>
      c.onRequest(method, (p) => {
        this.asked.push(method);
        return f(p) ?? null;
      });
    answer("client/registerCapability", (p) => p.registrations.forEach((r) => this.registered.set(r.id, r)));
    answer("client/unregisterCapability", (p) => p.unregisterations.forEach((r) => this.registered.delete(r.id)));
    answer("workspace/configuration", (p) => p.items.map((i) => (i.section === "stint" ? this.settings : null)));
    answer("workspace/workspaceFolders", () => this.folders);
    answer("window/workDoneProgress/create", () => null);
    answer("window/showMessageRequest", () => null);
    answer("window/showDocument", () => ({ success: true }));
    answer("workspace/applyEdit", (p) => {
      this.apply(p.edit);
      return { applied: true };
    });
    for (const what of ["semanticTokens", "inlayHint", "codeLens", "diagnostic", "inlineValue", "foldingRange"]) {
      answer(`workspace/${what}/refresh`, () => null);
    }
    c.listen();
  }

  request(method, params) {
    return params === undefined ? this.connection.sendRequest(method) : this.connection.sendRequest(method, params);
  }

  notify(method, params) {
    return params === undefined ? this.connection.sendNotification(method) : this.connection.sendNotification(method, params);
  }

  async initialize(capabilities, folders) {
    this.folders = folders.map((f) => ({ uri: uriOf(f), name: f.split("/").at(-1) }));
    const result = await this.request("initialize", {
      processId: process.pid,
      clientInfo: { name: "npm" },
      rootUri: this.folders[0].uri,
      capabilities,
      workspaceFolders: capabilities.workspace?.workspaceFolders ? this.folders : undefined,
    });
    this.capabilities = result.capabilities;
    await this.notify("initialized", {});
  }

  async open(file) {
    const uri = uriOf(file);
    const text = readFileSync(file, "utf8");
    this.documents.set(uri, { text, version: 1 });
    await this.notify("textDocument/didOpen", { textDocument: { uri, languageId: "stint", version: 1, text } });
    return uri;
  }

  text(uri) {
    return this.documents.get(uri)?.text ?? readFileSync(fileURLToPath(uri), "utf8");
  }

  /** Replaces a piece of an open document, and tells the server that piece only. */
  async change(uri, range, newText) {
    const d = this.documents.get(uri);
    d.text = edited(d.text, [{ range, newText }]);
    d.version++;
    await this.notify("textDocument/didChange", {
      textDocument: { uri, version: d.version },
      contentChanges: [{ range, text: newText }],
    });
  }

  /** Makes an open document's text another one. */
  async replace(uri, text) {
    await this.change(uri, { start: { line: 0, character: 0 }, end: endOf(this.text(uri)) }, text);
  }

  /** Closes a document and opens it again, in one write, as an editor does that reads it anew. */
  reopen(uri) {
    const { text, version } = this.documents.get(uri);
    this.diagnostics.delete(uri);
    const frame = (method, params) => {
      const body = JSON.stringify({ jsonrpc: "2.0", method, params });
      return `Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`;
    };
    this.child.stdin.write(
      frame("textDocument/didClose", { textDocument: { uri } }) +
        frame("textDocument/didOpen", { textDocument: { uri, languageId: "stint", version, text } }),
    );
  }

  async close(uri) {
    this.documents.delete(uri);
    await this.notify("textDocument/didClose", { textDocument: { uri } });
  }

  /** What a workspace edit makes of its files: uri -> text, and renames. */
  preview(edit) {
    const texts = new Map();
    const renames = [];
    const add = (uri, edits) => texts.set(uri, edited(texts.get(uri) ?? this.text(uri), edits));
    for (const [uri, edits] of Object.entries(edit.changes ?? {})) add(uri, edits);
    for (const c of edit.documentChanges ?? []) {
      if (c.kind === "rename") renames.push(c);
      else if (c.kind) throw new Error(`a change of kind ${c.kind}`);
      else {
        const open = this.documents.get(c.textDocument.uri);
        if (c.textDocument.version !== null && open && c.textDocument.version !== open.version) {
          throw new Error(`an edit of version ${c.textDocument.version} where ${open.version} is open`);
        }
        add(c.textDocument.uri, c.edits);
      }
    }
    return { texts, renames };
  }

  /** Applies a workspace edit: to open documents as changes, to others on the disk. */
  async apply(edit) {
    const { texts, renames } = this.preview(edit);
    for (const [uri, text] of texts) {
      if (this.documents.has(uri)) await this.replace(uri, text);
      writeFileSync(fileURLToPath(uri), text);
    }
    for (const r of renames) renameSync(fileURLToPath(r.oldUri), fileURLToPath(r.newUri));
    const changes = [
      ...[...texts.keys()].map((uri) => ({ uri, type: 2 })),
      ...renames.flatMap((r) => [{ uri: r.oldUri, type: 3 }, { uri: r.newUri, type: 1 }]),
    ];
    await this.notify("workspace/didChangeWatchedFiles", { changes });
    return { texts, renames };
  }

  /** The diagnostics of a document, as soon as they are such that ok holds. */
  async findings(uri, ok = () => true) {
    return eventually(`diagnostics of ${uri}`, async () => {
      const list = this.pulls
        ? (await this.request("textDocument/diagnostic", { textDocument: { uri } })).items
        : this.diagnostics.get(uri);
      return list && ok(list) ? list : undefined;
    });
  }

  async stop() {
    await this.request("shutdown");
    await this.notify("exit");
    return within("the server's end", this.exited);
  }
}

export async function eventually(what, f) {
  const until = Date.now() + patience;
  for (;;) {
    const got = await f();
    if (got !== undefined && got !== false) return got;
    if (Date.now() > until) throw new Error(`waited in vain for ${what}`);
    await new Promise((r) => setTimeout(r, 20));
  }
}

export function within(what, promise) {
  let timer;
  const late = new Promise((_, no) => (timer = setTimeout(() => no(new Error(`waited in vain for ${what}`)), patience)));
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}

export const uriOf = (file) => pathToFileURL(file).href;

function offsetOf(text, at) {
  const lines = text.split("\n");
  let off = 0;
  for (let i = 0; i < Math.min(at.line, lines.length); i++) off += lines[i].length + 1;
  return Math.min(off + Math.min(at.character, lines[at.line]?.length ?? 0), text.length);
}

export function positionAt(text, off) {
  const before = text.slice(0, off).split("\n");
  return { line: before.length - 1, character: before.at(-1).length };
}

const endOf = (text) => positionAt(text, text.length);

/** Where a piece of text stands: just behind so many characters of it. */
export function find(text, needle, into = 0) {
  const off = text.indexOf(needle);
  if (off < 0) throw new Error(`${JSON.stringify(needle)} is not in the text`);
  return positionAt(text, off + into);
}

export const slice = (text, range) => text.slice(offsetOf(text, range.start), offsetOf(text, range.end));

/** A text with edits made, all of which speak of the text as it was. */
export function edited(text, edits) {
  const sorted = edits
    .map((e, i) => ({ start: offsetOf(text, e.range.start), end: offsetOf(text, e.range.end), text: e.newText, i }))
    .sort((a, b) => b.start - a.start || b.i - a.i);
  let last = Infinity;
  for (const e of sorted) {
    if (e.end > last) throw new Error("edits that overlap");
    last = e.start;
    text = text.slice(0, e.start) + e.text + text.slice(e.end);
  }
  return text;
}
