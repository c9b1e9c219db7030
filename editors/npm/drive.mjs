// Drives the server through all that it says it can do. Whether the messages are as the
// protocol has them is not looked at here: they are recorded, and the test in Go holds
// them against the protocol's model. Here it is what they say.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { Client, edited, eventually, find, slice, uriOf } from "./client.mjs";
import { plain, rich } from "./capabilities.mjs";

const { STINT_TEST_COMMAND: command, STINT_TEST_SERVER: stint, STINT_TEST_QUAYSIDE: quayside, STINT_TEST_BROKEN: broken } = process.env;
const isRich = process.argv[2] === "rich";
const client = new Client(command);

let failed = 0;
async function step(name, f) {
  try {
    await f();
    console.log(`ok ${name}`);
  } catch (err) {
    failed++;
    console.log(`not ok ${name}: ${err.stack ?? err}`);
  }
}

/** A step for what the server may or may not announce; which it has to is the Go test's business. */
async function ifOffered(name, offered, f) {
  if (offered) await step(name, f);
  else console.log(`not offered: ${name}`);
}

const doc = (uri) => ({ textDocument: { uri } });
const at = (uri, needle, into = 0) => ({ ...doc(uri), position: find(client.text(uri), needle, into) });
const whole = (uri) => ({ start: { line: 0, character: 0 }, end: { line: client.text(uri).split("\n").length, character: 0 } });
const onDisk = (folder, name) => readFileSync(path.join(folder, name), "utf8");
const run = (...args) => execFileSync(stint, args, { encoding: "utf8" });

await client.initialize(isRich ? rich : plain, [quayside, broken]);
const can = client.capabilities;
const offered = (method) => [...client.registered.values()].some((r) => r.method === method);
client.pulls = isRich && (can.diagnosticProvider || offered("textDocument/diagnostic"));

const bowline = await client.open(path.join(quayside, "sessions/bowline.stint"));
const wrong = await client.open(path.join(broken, "sessions/bowline.stint"));

await step("findings", async () => {
  const list = await client.findings(wrong, (l) => l.length > 10);
  const unit = list.find((d) => d.code === "unit-wrong");
  assert.equal(unit.range.start.line, 5);
  assert.equal(unit.severity, 1);
  assert.equal(unit.source, "stint");
  assert.deepEqual(await client.findings(bowline).then((l) => l.filter((d) => d.severity < 3)), []);
});

if (client.pulls) {
  await step("findings that have not changed", async () => {
    const first = await client.request("textDocument/diagnostic", doc(wrong));
    assert.equal(first.kind, "full");
    const again = await client.request("textDocument/diagnostic", { ...doc(wrong), previousResultId: first.resultId });
    assert.equal(again.kind, "unchanged");
    assert.equal(client.diagnostics.size, 0, "to whom pulls, nothing is pushed");
  });
  await ifOffered("findings of all files", can.diagnosticProvider?.workspaceDiagnostics, async () => {
    const all = await client.request("workspace/diagnostic", { previousResultIds: [] });
    const uris = new Set(all.items.map((i) => i.uri));
    assert.ok(uris.has(uriOf(path.join(broken, "sessions/stopper.stint"))), [...uris].join(" "));
    const again = await client.request("workspace/diagnostic", {
      previousResultIds: all.items.map((i) => ({ uri: i.uri, value: i.resultId })),
    }).catch((e) => e);
    assert.ok(Array.isArray(again.items), String(again));
    assert.ok(again.items.every((i) => i.kind === "unchanged"), "what has not changed is said to be so");
  });
}

await step("a change, and what it draws", async () => {
  const text = client.text(bowline);
  const start = find(text, "total 57 kettlebell", 6);
  await client.change(bowline, { start, end: { ...start, character: start.character + 2 } }, "58");
  const list = await client.findings(bowline, (l) => l.some((d) => d.code === "total-wrong"));
  const found = list.find((d) => d.code === "total-wrong");
  const message = typeof found.message === "string" ? found.message : found.message.value;
  assert.match(message, /the total says 58, the lines come to 57/);
  assert.equal(slice(client.text(bowline), found.range), "58 kettlebell swing");
  if (isRich) assert.ok(found.relatedInformation.length > 0, "the lines are named");
  await client.replace(bowline, text);
  await client.findings(bowline, (l) => !l.some((d) => d.code === "total-wrong"));
});

await ifOffered("hover", can.hoverProvider, async () => {
  const movement = await client.request("textDocument/hover", at(bowline, "kettlebell swing @", 3));
  assert.equal(movement.contents.kind, isRich ? "markdown" : "plaintext");
  assert.match(movement.contents.value, /The bell floats to chest height/, "the standard of the movement");
  assert.equal(slice(client.text(bowline), movement.range), "kettlebell swing");
  const own = await client.request("textDocument/hover", at(bowline, "child's pose", 6));
  assert.match(own.contents.value, /child's pose/i);
  assert.equal(await client.request("textDocument/hover", { ...doc(bowline), position: { line: 6, character: 0 } }), null);
});

await ifOffered("completion", can.completionProvider, async () => {
  const text = client.text(bowline);
  const end = find(text, "  12 sit-up\n", "  12 sit-up".length);
  await client.change(bowline, { start: end, end }, "\n    10 kettlebell sw");
  const position = { line: end.line + 1, character: "    10 kettlebell sw".length };
  const got = await client.request("textDocument/completion", { ...doc(bowline), position, context: { triggerKind: 1 } });
  const items = Array.isArray(got) ? got : got.items;
  const swing = items.find((i) => i.label === "kettlebell swing");
  assert.ok(swing, items.map((i) => i.label).join(", "));
  if (can.completionProvider.resolveProvider) {
    const resolved = await client.request("completionItem/resolve", swing);
    const text = resolved.documentation?.value ?? resolved.documentation ?? "";
    assert.match(text, /chest height/, "the movement's standard");
  }
  const edit = swing.textEdit ?? { range: { start: { ...position, character: 7 }, end: position }, newText: swing.insertText ?? swing.label };
  const range = edit.range ?? edit.replace;
  const after = edited(client.text(bowline), [{ range, newText: edit.newText }]);
  assert.match(after, /^ {4}10 kettlebell swing\b/m);
  await client.replace(bowline, text);
});

// the workspace's own movement, and a session that does it
const card = path.join(quayside, "movements/quay-run.stint");
const own = await client.open(path.join(quayside, "sessions/slip-knot.stint"));

await ifOffered("definition", can.definitionProvider, async () => {
  const got = await client.request("textDocument/definition", at(own, "quay run", 2));
  const [first] = Array.isArray(got) ? got : [got];
  assert.equal(first.uri ?? first.targetUri, uriOf(card));
  const book = await client.request("textDocument/definition", at(bowline, "burpee", 2));
  const [there] = Array.isArray(book) ? book : [book];
  const text = readFileSync(fileURLToPath(there.uri ?? there.targetUri), "utf8");
  assert.match(slice(text, there.range ?? there.targetSelectionRange), /burpee/, "the built-in book can be opened");
});

await ifOffered("declaration", can.declarationProvider, async () => {
  assert.ok(await client.request("textDocument/declaration", at(own, "quay run", 2)));
});
await ifOffered("type definition", can.typeDefinitionProvider, async () => {
  assert.ok(await client.request("textDocument/typeDefinition", at(own, "quay run", 2)));
});
await ifOffered("implementation", can.implementationProvider, async () => {
  assert.ok(await client.request("textDocument/implementation", at(own, "quay run", 2)));
});

await ifOffered("references", can.referencesProvider, async () => {
  const context = { includeDeclaration: true };
  const all = await client.request("textDocument/references", { ...at(own, "quay run", 2), context });
  const files = new Set(all.map((l) => l.uri));
  assert.ok(files.has(uriOf(card)) && files.has(own), [...files].join(" "));
  for (const l of all) assert.match(slice(client.text(l.uri), l.range), /^quay (run|loop)$/i); // it has another name
  const uses = await client.request("textDocument/references", { ...at(own, "quay run", 2), context: { includeDeclaration: false } });
  assert.ok(uses.length > 0 && uses.every((l) => l.uri !== uriOf(card)), "without its entry");
});

await ifOffered("highlights", can.documentHighlightProvider, async () => {
  const got = await client.request("textDocument/documentHighlight", at(bowline, "kettlebell swing", 2));
  assert.ok(got.length >= 4, `${got.length} highlights`);
  for (const h of got) assert.equal(slice(client.text(bowline), h.range), "kettlebell swing");
});

await ifOffered("symbols of a file", can.documentSymbolProvider, async () => {
  const got = await client.request("textDocument/documentSymbol", doc(bowline));
  const names = (list) => list.flatMap((s) => [s.name, ...names(s.children ?? [])]);
  assert.ok(names(got).some((n) => n.includes("Bowline")), names(got).join(", "));
  assert.ok(names(got).some((n) => /part A/i.test(n)), names(got).join(", "));
  assert.equal(Boolean(got[0].children), isRich, "in levels, for whoever shows them");
});

await ifOffered("symbols of the workspace", can.workspaceSymbolProvider, async () => {
  const got = await client.request("workspace/symbol", { query: "bowl" });
  const found = got.find((s) => s.name.includes("Bowline"));
  assert.ok(found, got.map((s) => s.name).join(", "));
  if (can.workspaceSymbolProvider.resolveProvider) {
    const resolved = await client.request("workspaceSymbol/resolve", found);
    assert.ok(resolved.location.range);
  }
});

await ifOffered("folding", can.foldingRangeProvider, async () => {
  const got = await client.request("textDocument/foldingRange", doc(bowline));
  const part = find(client.text(bowline), "part A").line;
  const fold = got.find((r) => r.startLine === part);
  assert.match(client.text(bowline).split("\n")[fold.endLine], /rest at least/);
});

await ifOffered("selection", can.selectionRangeProvider, async () => {
  const position = find(client.text(bowline), "kettlebell swing", 2);
  const [got] = await client.request("textDocument/selectionRange", { ...doc(bowline), positions: [position] });
  const texts = [];
  for (let s = got; s; s = s.parent) texts.push(slice(client.text(bowline), s.range));
  assert.ok(texts.includes("kettlebell swing"), texts.join(" | "));
  for (let i = 1; i < texts.length; i++) assert.ok(texts[i].includes(texts[i - 1]));
});

await ifOffered("linked editing", can.linkedEditingRangeProvider, async () => {
  await client.request("textDocument/linkedEditingRange", at(own, "quay run", 2));
});

const tide = await client.open(path.join(quayside, "cycles/spring-tide.stint"));
await ifOffered("links", can.documentLinkProvider, async () => {
  let got = await client.request("textDocument/documentLink", doc(tide));
  if (can.documentLinkProvider.resolveProvider) got = await Promise.all(got.map((l) => client.request("documentLink/resolve", l)));
  const link = got.find((l) => slice(client.text(tide), l.range) === "Bowline");
  assert.ok(link.target.startsWith(bowline), link.target);
});

await ifOffered("semantic tokens", can.semanticTokensProvider, async () => {
  const { legend, full, range } = can.semanticTokensProvider;
  const got = await client.request("textDocument/semanticTokens/full", doc(bowline));
  const painted = (data) => {
    const lines = client.text(bowline).split("\n");
    const out = [];
    let line = 0;
    let start = 0;
    for (let i = 0; i < data.length; i += 5) {
      start = data[i] ? data[i + 1] : start + data[i + 1];
      line += data[i];
      const text = lines[line].slice(start, start + data[i + 2]);
      assert.equal(text.length, data[i + 2], "a token inside its line");
      out.push({ line, text, type: legend.tokenTypes[data[i + 3]] });
    }
    return out;
  };
  const all = painted(got.data);
  assert.ok(all.every((t) => t.type), "each of a type of the legend");
  assert.ok(all.some((t) => t.text === "kettlebell swing"), JSON.stringify(all.slice(0, 12)));
  if (range) {
    const part = await client.request("textDocument/semanticTokens/range", {
      ...doc(bowline), range: { start: { line: 0, character: 0 }, end: { line: 8, character: 0 } },
    });
    assert.deepEqual(painted(part.data), all.filter((t) => t.line < 8));
  }
  if (full?.delta) {
    const text = client.text(bowline);
    const start = find(text, "12 sit-up");
    await client.change(bowline, { start, end: start }, "14 burpee\n    ");
    const delta = await client.request("textDocument/semanticTokens/full/delta", { ...doc(bowline), previousResultId: got.resultId });
    const anew = await client.request("textDocument/semanticTokens/full", doc(bowline));
    let data = got.data;
    if (delta.edits) {
      assert.ok(delta.edits.reduce((n, e) => n + (e.data?.length ?? 0), 0) < 40, "a small change makes a small delta");
      for (const e of [...delta.edits].sort((a, b) => b.start - a.start)) {
        data = [...data.slice(0, e.start), ...(e.data ?? []), ...data.slice(e.start + e.deleteCount)];
      }
    } else data = delta.data;
    assert.deepEqual(data, anew.data);
    await client.replace(bowline, text);
  }
});

await ifOffered("inlay hints", can.inlayHintProvider, async () => {
  let got = await client.request("textDocument/inlayHint", { ...doc(bowline), range: whole(bowline) });
  if (can.inlayHintProvider.resolveProvider) got = await Promise.all(got.map((h) => client.request("inlayHint/resolve", h)));
  assert.ok(got.length > 0);
  const none = { inlayHints: { totals: false, times: false, units: false } };
  await configure(none);
  await eventually("no hints", async () => {
    const list = await client.request("textDocument/inlayHint", { ...doc(bowline), range: whole(bowline) });
    return !list || list.length === 0;
  });
  await configure({ inlayHints: { totals: true, times: true, units: true } });
  await eventually("hints", async () => (await client.request("textDocument/inlayHint", { ...doc(bowline), range: whole(bowline) }))?.length === got.length);
});

async function configure(settings) {
  client.settings = settings;
  await client.notify("workspace/didChangeConfiguration", { settings: { stint: settings } });
}

await ifOffered("lenses", can.codeLensProvider, async () => {
  let got = await client.request("textDocument/codeLens", doc(bowline));
  if (can.codeLensProvider.resolveProvider) got = await Promise.all(got.map((l) => client.request("codeLens/resolve", l)));
  assert.ok(got.length > 0);
  for (const l of got) assert.ok(l.command.title, "a lens has a title");
});

await ifOffered("fixes", can.codeActionProvider, async () => {
  const list = await client.findings(wrong);
  const found = list.find((d) => d.code === "comma-missing");
  const context = { diagnostics: [found], triggerKind: 1 };
  const got = await client.request("textDocument/codeAction", { ...doc(wrong), range: found.range, context });
  let fix = got.find((a) => (a.kind ?? "").startsWith("quickfix"));
  assert.ok(fix, JSON.stringify(got));
  if (can.codeActionProvider.resolveProvider) fix = await client.request("codeAction/resolve", fix);
  const { texts } = client.preview(fix.edit);
  assert.match(texts.get(wrong), /^ {2}12 lunge, alternating /m);
  await client.apply(fix.edit);
  await client.findings(wrong, (l) => !l.some((d) => d.code === "comma-missing"));

  // all that is safe, as the command line does it: first put back what was mended
  const name = "sessions/bowline.stint";
  await client.replace(wrong, onDisk(process.env.STINT_TEST_BROKEN_AS_IT_WAS, name));
  await eventually("the text is as it was", async () => (await client.findings(wrong)).some((d) => d.code === "comma-missing"));
  for (const only of ["quickfix", "refactor", "source", "source.fixAll"]) {
    let actions = await client.request("textDocument/codeAction", {
      ...doc(wrong), range: whole(wrong), context: { diagnostics: [], only: [only], triggerKind: 1 },
    });
    for (const a of actions ?? []) assert.ok(a.kind === only || a.kind.startsWith(only + "."), `${a.kind} where ${only} is asked for`);
    if (only === "source.fixAll") {
      assert.equal(actions.length, 1);
      let [all] = actions;
      if (!all.edit) all = await client.request("codeAction/resolve", all);
      const { texts } = client.preview(all.edit);
      assert.equal(texts.get(wrong), onDisk(process.env.STINT_TEST_BROKEN_MENDED, name), "what stint check --fix makes of it");
    }
  }
});

await ifOffered("other ways to write it", can.codeActionProvider, async () => {
  const start = find(client.text(bowline), "24/16 kg");
  const got = await client.request("textDocument/codeAction", {
    ...doc(bowline), range: { start, end: start }, context: { diagnostics: [], only: ["refactor"], triggerKind: 1 },
  });
  console.log("#", got.map((a) => a.title).join(" | "));
  const pounds = got.find((a) => /\blb\b|pounds/.test(a.title));
  const { texts } = client.preview((await client.request("codeAction/resolve", pounds)).edit);
  assert.match(texts.get(bowline), /swing @ 53\/35 lb/);
});

await ifOffered("commands", can.executeCommandProvider, async () => {
  for (const c of can.executeCommandProvider.commands) assert.match(c, /^stint\./);
});

await ifOffered("formatting", can.documentFormattingProvider, async () => {
  const text = client.text(bowline);
  const options = { tabSize: 2, insertSpaces: true };
  assert.deepEqual((await client.request("textDocument/formatting", { ...doc(bowline), options })) ?? [], [], "a file in order is left alone");
  const untidy = text
    .replace("  length 60:00", "  length   1 h  ")
    .replace("10 kettlebell swing @ 24/16 kg", "10 kettlebell swing@24 / 16kg")
    .replace("    12 sit-up", "\t12 sit-up");
  assert.notEqual(untidy, text);
  await client.replace(bowline, untidy);
  const edits = await client.request("textDocument/formatting", { ...doc(bowline), options });
  assert.ok(edits.length >= 2 && edits.length <= 4, `${edits.length} edits, no more than lines`);
  const file = path.join(quayside, "..", "untidy.stint");
  writeFileSync(file, untidy);
  run("fmt", file);
  assert.equal(edited(untidy, edits), readFileSync(file, "utf8"), "what stint fmt makes of it");
  if (can.documentRangeFormattingProvider) {
    const line = find(untidy, "length   1 h").line;
    const range = { start: { line, character: 0 }, end: { line: line + 1, character: 0 } };
    const some = await client.request("textDocument/rangeFormatting", { ...doc(bowline), range, options });
    assert.equal(edited(untidy, some), untidy.replace("  length   1 h  ", "  length 60:00"));
    if (can.documentRangeFormattingProvider.rangesSupport) {
      const many = await client.request("textDocument/rangesFormatting", { ...doc(bowline), ranges: [range], options });
      assert.deepEqual(many, some);
    }
  }
  if (can.documentOnTypeFormattingProvider) {
    const { firstTriggerCharacter: ch } = can.documentOnTypeFormattingProvider;
    const line = find(untidy, "length   1 h").line;
    const position = ch === "\n" ? { line: line + 1, character: 0 } : { line, character: "  length   1 h  ".length };
    const typed = await client.request("textDocument/onTypeFormatting", { ...doc(bowline), position, ch, options });
    assert.match(edited(untidy, typed ?? []), /^ {2}length 60:00$/m);
  }
  await client.replace(bowline, text);
});

await ifOffered("renaming a movement", can.renameProvider, async () => {
  const place = at(own, "quay run", 2);
  if (can.renameProvider.prepareProvider) {
    const ready = await client.request("textDocument/prepareRename", place);
    assert.equal(slice(client.text(own), ready.range ?? ready), "quay run");
    const not = await client.request("textDocument/prepareRename", { ...doc(own), position: { line: 0, character: 1 } }).catch((e) => e);
    assert.ok(not === null || not.message, "a keyword has no name to change");
  }
  const edit = await client.request("textDocument/rename", { ...place, newName: "pier run" });
  assert.equal(Boolean(edit.documentChanges), isRich, "with versions, for whoever keeps them");
  const { texts } = await client.apply(edit);
  assert.ok(texts.size > 2, `${texts.size} files`);
  for (const text of texts.values()) assert.doesNotMatch(text, /quay run/);
  assert.deepEqual(JSON.parse(run("check", "--format", "json", quayside)).diagnostics, [], "all is as it was, under another name");
  await assert.rejects(client.request("textDocument/rename", { ...at(own, "pier run", 2), newName: "12 runs" }), "a name that cannot be one");
});

await ifOffered("renaming a session", can.renameProvider, async () => {
  const edit = await client.request("textDocument/rename", { ...at(tide, "mon Bowline", 6), newName: "Fender Hitch" });
  const { texts, renames } = client.preview(edit);
  assert.match(texts.get(tide), /mon Fender Hitch/);
  assert.match(texts.get(bowline), /^session Fender Hitch$/m);
  for (const r of renames) assert.ok(r.newUri.endsWith("/sessions/fender-hitch.stint"), r.newUri);
});

await ifOffered("files that are made, renamed and removed", can.workspace?.fileOperations, async () => {
  const ops = can.workspace.fileOperations;
  const rename = { files: [{ oldUri: bowline, newUri: bowline.replace("bowline.stint", "fender-hitch.stint") }] };
  const fresh = { files: [{ uri: uriOf(path.join(quayside, "sessions/gasket.stint")) }] };
  if (ops.willRename) await client.request("workspace/willRenameFiles", rename);
  if (ops.willCreate) await client.request("workspace/willCreateFiles", fresh);
  if (ops.willDelete) await client.request("workspace/willDeleteFiles", fresh);
  if (ops.didRename) await client.notify("workspace/didRenameFiles", rename);
  if (ops.didCreate) await client.notify("workspace/didCreateFiles", fresh);
  if (ops.didDelete) await client.notify("workspace/didDeleteFiles", fresh);
});

await step("a file that is changed on the disk", async () => {
  const file = path.join(broken, "sessions/lost.stint");
  writeFileSync(file, "stint 1\n\nsession Lost\n  length 60:00\n\npart A\n  12 burpee, wth vest\n");
  await client.notify("workspace/didChangeWatchedFiles", { changes: [{ uri: uriOf(file), type: 2 }] });
  await client.findings(uriOf(file), (l) => l.some((d) => d.code === "word-unknown"));
});

await step("a document that is read anew", async () => {
  // an editor forgets what it was sent of a document that it closes
  for (let i = 0; i < 5; i++) {
    client.reopen(wrong);
    await client.findings(wrong, (l) => l.length > 10);
  }
});

await step("saving and closing", async () => {
  if (can.textDocumentSync.willSave) await client.notify("textDocument/willSave", { ...doc(bowline), reason: 1 });
  if (can.textDocumentSync.willSaveWaitUntil) await client.request("textDocument/willSaveWaitUntil", { ...doc(bowline), reason: 1 });
  await client.notify("textDocument/didSave", doc(bowline));
  await client.close(bowline);
});

await step("a folder that goes", async () => {
  if (!can.workspace?.workspaceFolders?.changeNotifications) return;
  const removed = client.folders.splice(1, 1);
  await client.notify("workspace/didChangeWorkspaceFolders", { event: { added: [], removed } });
  if (!client.pulls) {
    await client.close(wrong);
    await eventually("what was sent of the folder is taken back", async () => client.diagnostics.get(wrong)?.length === 0);
  }
});

await step("the end", async () => {
  assert.equal(await client.stop(), 0);
  assert.equal(client.stderr, "");
});
process.exit(failed ? 1 : 0);
