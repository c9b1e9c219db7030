// Starts `stint lsp` and hands the editor over to it. What a session means is the
// server's business; nothing of it is worked out here, and nothing is sent anywhere.
const vscode = require("vscode");
const { LanguageClient, RevealOutputChannelOn } = require("vscode-languageclient/node");
const { find } = require("./find");

/** @type {LanguageClient | undefined} */
let client;
/** @type {vscode.LogOutputChannel} */
let output;

async function activate(context) {
  output = vscode.window.createOutputChannel("Stint", { log: true });
  context.subscriptions.push(
    output,
    vscode.commands.registerCommand("stint.restart", () => restart()),
    vscode.workspace.onDidChangeConfiguration((e) => {
      if (e.affectsConfiguration("stint.path")) return restart();
    }),
  );
  await start();
}

async function start() {
  const wanted = vscode.workspace.getConfiguration("stint").get("path") || "stint";
  const command = find(wanted);
  if (!command) {
    // not awaited: the message may stand for as long as it likes
    void missing(wanted);
    return;
  }
  const starting = new LanguageClient("stint", "Stint", { command, args: ["lsp"] }, {
    documentSelector: [{ language: "stint" }],
    initializationOptions: vscode.workspace.getConfiguration("stint"),
    outputChannel: output,
    revealOutputChannelOn: RevealOutputChannelOn.Never,
  });
  client = starting;
  try {
    await starting.start();
  } catch (err) {
    output.error(`${command} lsp: ${err}`);
    if (client === starting) client = undefined;
    void failed(command, err);
  }
}

async function stop() {
  const stopping = client;
  client = undefined;
  try {
    await stopping?.dispose();
  } catch (err) {
    output.warn(`the server did not stop well: ${err}`);
  }
}

async function restart() {
  await stop();
  await start();
}

async function missing(wanted) {
  const settings = "Say where it is";
  const retry = "Try again";
  const where = /[\\/]/.test(wanted) ? `There is no program ${wanted}.` : `There is no program "${wanted}" on the PATH.`;
  const chosen = await vscode.window.showErrorMessage(
    `${where} Files in the notation are coloured, and nothing is checked. ` +
      "Install stint (go install ./cmd/stint, in its folder), or say where it is in the setting stint.path.",
    settings,
    retry,
  );
  if (chosen === settings) await vscode.commands.executeCommand("workbench.action.openSettings", "stint.path");
  if (chosen === retry) await restart();
}

async function failed(command, err) {
  const show = "Show what it said";
  const chosen = await vscode.window.showErrorMessage(
    `${command} lsp could not be started: ${err.message ?? err}. Is it an older stint, without a language server?`,
    show,
  );
  if (chosen === show) output.show();
}

module.exports = { activate, deactivate: stop };
