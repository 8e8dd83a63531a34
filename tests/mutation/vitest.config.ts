import { defineConfig } from "vitest/config";

const PURE = ["model", "findings", "names", "taxa", "subsample", "metrics", "scoring", "quality"];

/**
 * A folder is judged by its own tests and its checks against the outside alone: in one process, without the
 * built program. `tests/mutation/run.mjs` names the folder.
 */
const judged = process.env.MUTATED_FOLDER === undefined ? PURE : [process.env.MUTATED_FOLDER];
const folders = judged.flatMap((folder) => [folder, `published/${folder}`]).concat("published/vegan");

export default defineConfig({
  define: { JARTALLY_VERSION: JSON.stringify("0.0.0") },
  test: {
    include: folders.map((folder) => `tests/${folder}/**/*.test.ts`),
    // Hundreds of thousands of draws: too slow to be run once for every change.
    exclude: ["tests/subsample/draw-distribution.test.ts"],
    testTimeout: 300_000,
    hookTimeout: 300_000,
    env: { TZ: "UTC", LC_ALL: "C", NO_COLOR: "1" },
  },
});
