// What the editor does by itself as one types: which letters are one word, and which
// lines the next one is indented under.
import { test } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";

const config = JSON.parse(readFileSync(new URL("../language-configuration.json", import.meta.url), "utf8"));
const demo = fileURLToPath(new URL("../../../testdata/quayside/", import.meta.url));

test("words", () => {
  const words = new RegExp(config.wordPattern.pattern, config.wordPattern.flags + "g");
  assert.deepEqual("12 child's pose, pull-up @ 22.5 kg at 9:00 > Überzug".match(words),
    ["12", "child's", "pose", "pull-up", "22.5", "kg", "at", "9:00", "Überzug"]);
});

test("lines that others stand under", () => {
  const opens = new RegExp(config.indentationRules.increaseIndentPattern);
  const depth = (line) => line.match(/^ */)[0].length;
  const remark = (line) => /^\s*([#>]|$)/.test(line);
  let seen = 0;
  for (const f of readdirSync(demo, { recursive: true }).filter((f) => f.endsWith(".stint"))) {
    const lines = readFileSync(demo + f, "utf8").split("\n");
    lines.forEach((line, i) => {
      if (remark(line)) return;
      const next = lines.slice(i + 1).find((l) => l.trim() !== "" && !l.trim().startsWith("#"));
      const has = next !== undefined && depth(next) > depth(line) && !/^\s*(>|allow\b)/.test(next);
      if (has) seen++;
      // a part or a scaling may hold nothing but a note
      if (has || !/^\s*(part|scaling|week|cool-down|warm-up)\b/.test(line)) assert.equal(opens.test(line), has, `${f}:${i + 1}: ${line}`);
    });
  }
  assert.ok(seen > 100, `${seen} lines`);
  assert.ok(!opens.test("  3 rounds: 12 burpee"));
});
