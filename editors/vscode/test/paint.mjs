// Paints files as an editor does before the server has spoken: the grammar, in the
// engine that VS Code uses.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

// the Go tests keep the packages in a folder for caches, and say where
const require = createRequire(process.env.STINT_TEST_MODULES ? process.env.STINT_TEST_MODULES + "/" : import.meta.url);
const { Registry, parseRawGrammar, INITIAL } = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");

const file = fileURLToPath(new URL("../syntaxes/stint.tmLanguage.json", import.meta.url));

export async function painter() {
  const wasm = readFileSync(require.resolve("vscode-oniguruma/release/onig.wasm"));
  await oniguruma.loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
  const registry = new Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (s) => new oniguruma.OnigString(s),
    }),
    loadGrammar: async () => parseRawGrammar(readFileSync(file, "utf8"), file),
  });
  const grammar = await registry.loadGrammar("source.stint");
  /** The lines of a text, each a list of {text, scope}: the innermost scope, "" for none. */
  return (text) => {
    let stack = INITIAL;
    return text.split(/\r?\n/).map((line) => {
      const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
      stack = ruleStack;
      return tokens
        .map((t) => ({
          text: line.slice(t.startIndex, t.endIndex),
          scope: t.scopes.filter((s) => s !== "source.stint" && !s.startsWith("meta.")).at(-1)?.replace(/\.stint$/, "") ?? "",
        }))
        .filter((t) => t.text.trim() !== "");
    });
  };
}
