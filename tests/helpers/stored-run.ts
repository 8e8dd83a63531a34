import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { StoredRun } from "../../src/pipeline/open-run.ts";
import { openRun } from "../../src/pipeline/open-run.ts";
import type { Batch } from "../../src/pipeline/score-batch.ts";
import type { ScoreSamplesRequest } from "../../src/pipeline/score-samples.ts";
import { scoreSamples } from "../../src/pipeline/score-samples.ts";
import type { SmallSet } from "./small-lab.ts";
import { smallLab } from "./small-lab.ts";

/** The files of a run as text; without a log the run has none. */
export interface RunFiles {
  readonly sheet: string;
  readonly log?: string;
  readonly set?: SmallSet;
}

/** Scores files with the small set, leaves a run and opens it again, as `report` and `export` do. */
export async function storedRun(
  { sheet, log, set }: RunFiles,
  choices: Partial<ScoreSamplesRequest> = {},
): Promise<StoredRun & { readonly batch: Batch }> {
  const lab = smallLab(set);
  writeFileSync(join(lab, "sheet.csv"), sheet);
  if (log !== undefined) writeFileSync(join(lab, "log.csv"), log);
  const samples = log === undefined ? {} : { samples: "log.csv" };
  const request = { sheets: ["sheet.csv"], reference: "./small-set", cwd: lab, run: "run" };
  const { findings } = await scoreSamples({ ...request, ...samples, ...choices });
  const run = await openRun("run", lab).catch((error: unknown) => {
    throw new Error(`no run: ${findings.map((one) => one.message).join("; ")}`, { cause: error });
  });
  if (run.batch === undefined) throw new Error("the run has no batch");
  return { ...run, batch: run.batch };
}
