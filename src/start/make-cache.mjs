import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setFlagsFromString } from "node:v8";
import { programFiles, programOf, programScript, sealed } from "./load-program.ts";

// The last step of the build, and no part of the program: leaves beside the bundle what V8 has compiled of it once the main commands have run.

/** Command lines that work in the folder of the project. What only others run is compiled when it is called. */
function commandLines(folder) {
  const log = "demo-data/sample-log.csv";
  const batch = ["demo-data/bench-sheet.csv", "--samples", log];
  const scored = [...batch, "--reference", "vennaloo-demo"];
  return [
    ["demo"],
    ["check", ...scored],
    ["grids", log, "--tray", "5x6"],
    ["subsample", ...batch, "--target", "100", "-o", join(folder, "counts.csv")],
    ["metrics", ...scored],
    ["score", ...scored, "-o", join(folder, "scores.csv"), "--run", join(folder, "run")],
    ["explain", ...scored, "--sample", "U1-2023-06"],
  ];
}

async function makeCache() {
  // Else V8 drops what has not run for a while. A cache is taken by the same flags only, so this one is taken back.
  setFlagsFromString("--no-flush-bytecode");
  const files = programFiles(__dirname);
  const script = programScript(files);
  const program = programOf(script, __dirname);
  const folder = mkdtempSync(join(tmpdir(), "jartally-cache-"));
  try {
    for (const words of commandLines(folder)) {
      await program.main(words);
      // Some samples of the demo are refused (3), as they shall be.
      if (process.exitCode !== 0 && process.exitCode !== 3)
        throw new Error(`jartally ${words.join(" ")} ended with ${process.exitCode}`);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  process.exitCode = 0;
  setFlagsFromString("--flush-bytecode");
  writeFileSync(files.cache, sealed(readFileSync(files.bundle), script.createCachedData()));
}

void makeCache();
