// What the extension does with the editor, with a stand-in for both the editor and the
// client; .ci/vscode tries it with the real ones.
import { test } from "node:test";
import assert from "node:assert/strict";
import Module, { createRequire } from "node:module";

const require = createRequire(import.meta.url);

/** Loads the extension into an editor that has these settings. */
async function editor(settings) {
  const seen = { messages: [], clients: [], commands: {}, executed: [] };
  let changed;
  let answer;
  const vscode = {
    window: {
      createOutputChannel: () => ({ error() {}, warn() {}, show() {}, dispose() {} }),
      showErrorMessage: (text, ...buttons) => {
        seen.messages.push({ text, buttons });
        return new Promise((done) => (answer = done));
      },
    },
    workspace: {
      getConfiguration: (section) => ({ get: (key) => settings[`${section}.${key}`] }),
      onDidChangeConfiguration: (f) => {
        changed = f;
        return { dispose() {} };
      },
    },
    commands: {
      registerCommand: (name, f) => {
        seen.commands[name] = f;
        return { dispose() {} };
      },
      executeCommand: async (...what) => seen.executed.push(what),
    },
  };
  class LanguageClient {
    constructor(id, name, server, options) {
      Object.assign(this, { id, server, options, state: "new" });
      seen.clients.push(this);
    }
    async start() {
      if (settings.broken) throw new Error("it broke");
      this.state = "started";
    }
    async dispose() {
      this.state = "disposed";
    }
  }
  const load = Module._load;
  Module._load = (name, ...rest) => {
    if (name === "vscode") return vscode;
    if (name === "vscode-languageclient/node") return { LanguageClient, RevealOutputChannelOn: { Never: 4 } };
    return load(name, ...rest);
  };
  const file = require.resolve("../src/extension.js");
  delete require.cache[file];
  const extension = require(file);
  Module._load = load;
  await extension.activate({ subscriptions: [] });
  return {
    ...seen,
    deactivate: extension.deactivate,
    set: (name, value) => {
      settings[name] = value;
      return changed({ affectsConfiguration: (n) => n === name });
    },
    answer: async (button) => {
      answer(button);
      await new Promise((r) => setTimeout(r));
    },
  };
}

test("it starts the server that the settings name, and stops it", async () => {
  const e = await editor({ "stint.path": process.execPath });
  const [client] = e.clients;
  assert.deepEqual(client.server, { command: process.execPath, args: ["lsp"] });
  assert.deepEqual(client.options.documentSelector, [{ language: "stint" }]);
  assert.equal(client.state, "started");
  assert.deepEqual(e.messages, []);
  await e.commands["stint.restart"]();
  assert.deepEqual(e.clients.map((c) => c.state), ["disposed", "started"]);
  await e.deactivate();
  assert.deepEqual(e.clients.map((c) => c.state), ["disposed", "disposed"]);
});

test("it says where no program is, and starts the one that is then named", async () => {
  const e = await editor({ "stint.path": "/nowhere/stint" });
  assert.equal(e.clients.length, 0);
  assert.match(e.messages[0].text, /There is no program \/nowhere\/stint\./);
  await e.answer("Say where it is");
  assert.deepEqual(e.executed, [["workbench.action.openSettings", "stint.path"]]);
  await e.set("stint.path", process.execPath);
  assert.equal(e.clients[0].state, "started");
});

test("it says so where the server cannot be started", async () => {
  const e = await editor({ "stint.path": process.execPath, broken: true });
  assert.match(e.messages[0].text, /could not be started: it broke/);
});
