import { test } from "node:test";
import assert from "node:assert/strict";
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";

const { find } = createRequire(import.meta.url)("../src/find.js");

test("a program is found on the PATH, by its path, or not at all", (t) => {
  const dir = mkdtempSync(path.join(os.tmpdir(), "stint-find-"));
  t.after(() => rmSync(dir, { recursive: true }));
  const program = path.join(dir, "stint");
  writeFileSync(program, "#!/bin/sh\n");
  mkdirSync(path.join(dir, "folder"));
  const env = { PATH: ["/nowhere", dir].join(path.delimiter) };
  if (process.platform !== "win32") {
    assert.equal(find("stint", env), undefined, "it may not be run");
    chmodSync(program, 0o755);
  }
  assert.equal(find("stint", env), program);
  assert.equal(find(program, { PATH: "" }), program);
  assert.equal(find("stint", { PATH: "/nowhere" }), undefined);
  assert.equal(find("folder", env), undefined, "a folder is no program");
  writeFileSync(path.join(dir, "stint.EXE"), "");
  chmodSync(path.join(dir, "stint.EXE"), 0o755);
  rmSync(program);
  assert.equal(find("stint", { ...env, PATHEXT: ".COM;.EXE" }, "win32"), path.join(dir, "stint.EXE"));
});
