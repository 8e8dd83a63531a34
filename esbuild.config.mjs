// Builds the program and the library. The program is one file that V8 need not compile anew each time it starts;
// DEVELOPERS.md says more under "How it is built".
import { spawnSync } from "node:child_process";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { build } from "esbuild";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));

// For measuring coverage: maps back to src, and code that still has the branches of src. Never what ships.
const withMaps = process.argv.includes("--source-maps");

const common = {
  outdir: "dist",
  bundle: true,
  platform: "node",
  target: "node20.19",
  minifySyntax: !withMaps,
  minifyWhitespace: !withMaps,
  sourcemap: withMaps,
  legalComments: "linked",
  logLevel: "warning",
  define: { JARTALLY_VERSION: JSON.stringify(version) },
};

// CommonJS starts a few milliseconds sooner than what Node must first take for a module of the standard.
const commonJs = {
  ...common,
  format: "cjs",
  outExtension: { ".js": ".cjs" },
  // An import that waits is a require() that waits: the loader of standard modules is never started.
  supported: { "dynamic-import": false },
  define: { ...common.define, "import.meta.dirname": "__dirname" },
};

rmSync("dist", { recursive: true, force: true });

// The library: chunks that load when they are used.
await build({
  ...common,
  format: "esm",
  entryPoints: { index: "src/index.ts" },
  splitting: true,
  chunkNames: "chunks/[name]-[hash]",
});

// The program, as the function that src/start/load-program.ts runs, and beside it what only reports need.
await build({
  ...commonJs,
  entryPoints: { program: "src/program.ts" },
  banner: { js: "(function (module, exports, require, __dirname) {" },
  footer: { js: "})" },
  plugins: [elsewhere({ "./echarts.ts": "./echarts.cjs" }), withoutUnused()],
});
leaveOnlyAscii("dist/program.cjs");
await build({ ...commonJs, entryPoints: { echarts: "src/report/echarts.ts" } });
await build({ ...commonJs, entryPoints: { cli: "src/start/cli.ts", thread: "src/start/thread.ts" } });

// Help and version in one file, and the answers to the tab key in another, with what these look up in files in a
// third. What a command imports when it runs is left out: none runs from here.
const METRIC_WORDS = await resultOf("src/cli/completion/metric-words.ts");
await build({
  ...commonJs,
  entryPoints: {
    help: "src/cli/help-main.ts",
    complete: "src/cli/completion/complete-main.ts",
    "complete-values": "src/cli/completion/values.ts",
  },
  plugins: [
    elsewhere({ "./main.ts": "./cli.cjs", "./values.ts": "./complete-values.cjs" }),
    {
      name: "leave-out-what-runs",
      setup(building) {
        building.onResolve({ filter: /./ }, ({ kind, path }) =>
          kind === "dynamic-import" ? { path, external: true } : undefined,
        );
        building.onLoad({ filter: /metric-words\.ts$/ }, () => ({ contents: METRIC_WORDS }));
      },
    },
  ],
});

// A coverage of branches needs code that V8 compiled for that end.
if (!withMaps) await makeCache();

/**
 * Writes as escapes what the bundler leaves of other characters, which is those of regular expressions: the program
 * is read a byte a character, which is quicker.
 */
function leaveOnlyAscii(file) {
  const escaped = readFileSync(file, "utf8").replace(
    /[^\0-\x7f]/g,
    (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
  writeFileSync(file, escaped);
}

/** Runs the main commands of the built program, in a process of their own. */
async function makeCache() {
  const maker = "dist/make-cache.cjs";
  await build({ ...commonJs, entryPoints: ["src/start/make-cache.mjs"] });
  const { status, stderr } = spawnSync(process.execPath, [maker], { stdio: ["ignore", "ignore", "pipe"] });
  rmSync(maker);
  if (status === 0) return;
  process.stderr.write(stderr);
  process.exitCode = 1;
}

/** Leaves modules out that are built into files of their own. */
function elsewhere(builtAs) {
  return {
    name: "elsewhere",
    setup(building) {
      building.onResolve({ filter: /^\.\/\w+\.ts$/ }, ({ path }) =>
        path in builtAs ? { path: builtAs[path], external: true } : undefined,
      );
    },
  };
}

/** What dependencies load for ends that are not ours: commander to start programs, chalk to guess colours. */
function withoutUnused() {
  const contents = {
    "node:child_process": "module.exports = {};",
    "#supports-color": "export default { stdout: false, stderr: false };",
  };
  return {
    name: "without-unused",
    setup(building) {
      building.onResolve({ filter: /^(node:child_process|#supports-color)$/ }, ({ path }) => ({
        path,
        namespace: "unused",
      }));
      building.onLoad({ filter: /./, namespace: "unused" }, ({ path }) => ({ contents: contents[path] }));
    },
  };
}

/** Runs a module of constants and gives a module that holds them as they came out. */
async function resultOf(file) {
  const built = await build({
    ...common,
    format: "esm",
    sourcemap: false,
    entryPoints: [file],
    write: false,
  });
  const code = encodeURIComponent(built.outputFiles[0].text);
  const constants = Object.entries(await import(`data:text/javascript,${code}`));
  return constants.map(([name, value]) => `export const ${name} = ${JSON.stringify(value)};`).join("\n");
}
