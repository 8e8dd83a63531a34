#!/usr/bin/env node
// Measures how often intervals of scores hold what they are about, on jars whose animals are all known.
//   npm run benchmark:coverage [-- SAMPLES] [--tried] [--another-draw]
// SAMPLES subsamples a case (2000 when left out), ten times as many draws for the truth. --tried compares forms of
// intervals and ways to treat taxa that were not met. Takes minutes: run it niced.
import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const folder = mkdtempSync(join(root, "node_modules/.coverage-"));
try {
  await build({
    entryPoints: { main: join(root, "tests/benchmarks/coverage/main.ts") },
    outdir: folder,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20.19",
    packages: "external",
    define: { JARTALLY_VERSION: '"0.0.0"' },
    loader: { ".ts": "ts" },
  });
  const { main } = await import(pathToFileURL(join(folder, "main.mjs")).href);
  await main(process.argv.slice(2));
} finally {
  rmSync(folder, { recursive: true, force: true });
}
