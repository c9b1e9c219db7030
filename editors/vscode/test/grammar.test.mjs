// What the first paint colours: every word of the demo and of the examples of the
// specification, and as what. UPDATE=1 writes the painting anew; read it before you
// keep it.
import { test } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { painter } from "./paint.mjs";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const paint = await painter();

const stintFiles = (folder) =>
  readdirSync(root + folder, { recursive: true }).filter((f) => f.endsWith(".stint")).map((f) => `${folder}/${f}`).sort();

// What no rule paints, of lines that have no mistake.
function unpainted(text) {
  const lines = text.split("\n");
  const wrong = (i) => lines[i].includes("#@ diag") || /^\s*#@\^/.test(lines[i + 1] ?? "");
  return paint(text).flatMap((tokens, i) =>
    wrong(i) ? [] : tokens.filter((t) => t.scope === "").map((t) => `${i + 1}: ${lines[i]}  [${t.text.trim()}]`));
}

test("all of the demo and of the book is painted", () => {
  const files = [...stintFiles("testdata/quayside"), ...stintFiles("lang/book/data")];
  assert.ok(files.length > 30);
  for (const f of files) assert.deepEqual(unpainted(readFileSync(root + f, "utf8")), [], f);
});

test("all of the examples of the specification are painted", () => {
  const text = readFileSync(root + "spec/language.md", "utf8");
  const examples = [...text.matchAll(/```stint[^\n]*\n([\s\S]*?)```/g)].map((m) => m[1]);
  assert.ok(examples.length > 100);
  for (const e of examples) assert.deepEqual(unpainted(e), [], e);
});

test("a mistake is not painted as a word of the notation", () => {
  const scopeOf = (text, word) => paint(text).flat().find((t) => t.text.trim() === word)?.scope;
  assert.equal(scopeOf("part A\n  12 air squat, altenating\n", "altenating"), "");
  assert.equal(scopeOf("cycle Neap\n  wek 1\n", "wek 1"), "");
  // a word is a keyword in its own block only
  assert.equal(scopeOf("part A\n  12 class\n", "class"), "entity.name.function.movement");
  assert.equal(scopeOf("house Quayside Hall\n  class 16\n", "class"), "keyword.control");
  assert.equal(scopeOf("movement pier hop\n  > part of the warm-up\n", "part"), undefined);
});

test("a line of each shape, as it is painted", () => {
  const text = readFileSync(new URL("everything.stint", import.meta.url), "utf8");
  const lines = text.split("\n");
  const got = paint(text)
    .map((tokens, i) => [lines[i], ...tokens.map((t) => `    ${t.text.trim()}  ${t.scope}`)].join("\n"))
    .join("\n");
  const golden = new URL("everything.txt", import.meta.url);
  if (process.env.UPDATE) writeFileSync(golden, got);
  assert.equal(got, readFileSync(golden, "utf8"));
});
