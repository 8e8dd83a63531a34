// Mutation testing, folder by folder: `npm run mutation` or `npm run mutation -- scoring "metrics/*.ts"`.
// Results are kept in coverage/mutation/<folder>.json, so that a second run tests only what changed.
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { resolve } from "node:path";
import { judgedFolder } from "./test-folders.mjs";

const PURE = ["scoring", "subsample", "taxa", "names", "model", "metrics", "quality", "findings"];

/** The form of set.json is put together while it loads, and judged by the tests that read sets. */
const LEFT_OUT = { model: ",!src/model/reference-set.ts" };

function mutated(folder) {
  return /[*.]/.test(folder) ? `src/${folder}` : `src/${folder}/**/*.ts${LEFT_OUT[folder] ?? ""}`;
}

const words = process.argv.slice(2);
const options = words.filter((word) => word.startsWith("--"));
const asked = words.filter((word) => !word.startsWith("--"));
mkdirSync("coverage/mutation", { recursive: true });
// Tests that make folders make them again for every mutant, and their process is ended without a chance to tidy up.
const room = mkdtempSync(resolve("coverage/mutation/temporary-"));
process.once("exit", () => rmSync(room, { recursive: true, force: true }));
let worst = 0;
for (const folder of asked.length > 0 ? asked : PURE) {
  const name = folder.replaceAll("/", "-").replaceAll("*", "all");
  const { status } = spawnSync(
    "npx",
    [
      ...["stryker", "run", "--mutate", mutated(folder)],
      ...["--incrementalFile", `coverage/mutation/${name}.json`],
      ...options,
    ],
    {
      stdio: "inherit",
      env: { ...process.env, TMPDIR: room, TEMP: room, TMP: room, MUTATED_FOLDER: judgedFolder(folder) },
    },
  );
  worst = Math.max(worst, status ?? 1);
}
process.exitCode = worst;
