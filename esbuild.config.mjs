// Builds the program: a small entry for help and version, and chunks that load when a command needs them.
import { readFileSync, rmSync } from "node:fs";
import { build } from "esbuild";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));

rmSync("dist", { recursive: true, force: true });
await build({
  entryPoints: { cli: "src/cli/main.ts", index: "src/index.ts" },
  outdir: "dist",
  bundle: true,
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20.19",
  minifySyntax: true,
  minifyWhitespace: true,
  legalComments: "linked",
  logLevel: "warning",
  chunkNames: "chunks/[name]-[hash]",
  define: { JARTALLY_VERSION: JSON.stringify(version) },
  // commander is CommonJS and asks for node:events with require().
  banner: {
    js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
  },
});
