// Builds the program: a small entry for help and version, and chunks that load when a command needs them.
import { readFileSync, rmSync } from "node:fs";
import { build } from "esbuild";

const { version } = JSON.parse(readFileSync(new URL("package.json", import.meta.url), "utf8"));

const common = {
  outdir: "dist",
  bundle: true,
  format: "esm",
  platform: "node",
  target: "node20.19",
  minifySyntax: true,
  minifyWhitespace: true,
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
  entryPoints: { cli: "src/cli/main.ts", index: "src/index.ts" },
  splitting: true,
  chunkNames: "chunks/[name]-[hash]",
});

// Help and version in one file. What a command imports when it runs is left out: none runs from here.
await build({
  ...common,
  entryPoints: { help: "src/cli/help-main.ts" },
  plugins: [
    {
      name: "leave-out-what-runs",
      setup(building) {
        building.onResolve({ filter: /./ }, ({ kind, path }) =>
          kind === "dynamic-import"
            ? { path: path === "./main.ts" ? "./cli.js" : path, external: true }
            : undefined,
        );
      },
    },
  ],
});
