// Builds the program: a small entry for help and version, and chunks that load when a command needs them.
import { readFileSync, rmSync } from "node:fs";
import { build } from "esbuild";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));

// For measuring coverage: maps back to src, and code that still has the branches of src. Never what ships.
const withMaps = process.argv.includes("--source-maps");

const common = {
  outdir: "dist",
  bundle: true,
  format: "esm",
  platform: "node",
  target: "node20.19",
  minifySyntax: !withMaps,
  minifyWhitespace: !withMaps,
  sourcemap: withMaps,
  legalComments: "linked",
  logLevel: "warning",
  define: { JARTALLY_VERSION: JSON.stringify(version) },
  // commander is CommonJS and asks for node:events with require().
  banner: {
    js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
  },
};

rmSync("dist", { recursive: true, force: true });
await build({
  ...common,
  entryPoints: {
    cli: "src/cli/main.ts",
    index: "src/index.ts",
    "resample-worker": "src/pipeline/intervals/resample-worker.ts",
    "checksum-worker": "src/runs/checksum-worker.ts",
  },
  splitting: true,
  chunkNames: "chunks/[name]-[hash]",
});

// Help and version in one file, and the answers to the tab key in another, with what these look up in files in a
// third. What a command imports when it runs is left out: none runs from here.
const METRIC_WORDS = await resultOf("src/cli/completion/metric-words.ts");
const BUILT_AS = { "./main.ts": "./cli.js", "./values.ts": "./complete-values.js" };
await build({
  ...common,
  entryPoints: {
    help: "src/cli/help-main.ts",
    complete: "src/cli/completion/complete-main.ts",
    "complete-values": "src/cli/completion/values.ts",
  },
  plugins: [
    {
      name: "leave-out-what-runs",
      setup(building) {
        building.onResolve({ filter: /./ }, ({ kind, path }) =>
          kind === "dynamic-import" ? { path: BUILT_AS[path] ?? path, external: true } : undefined,
        );
        building.onLoad({ filter: /metric-words\.ts$/ }, () => ({ contents: METRIC_WORDS }));
      },
    },
  ],
});

/** Runs a module of constants and gives a module that holds them as they came out. */
async function resultOf(file) {
  const built = await build({ ...common, banner: {}, sourcemap: false, entryPoints: [file], write: false });
  const code = encodeURIComponent(built.outputFiles[0].text);
  const constants = Object.entries(await import(`data:text/javascript,${code}`));
  return constants.map(([name, value]) => `export const ${name} = ${JSON.stringify(value)};`).join("\n");
}
