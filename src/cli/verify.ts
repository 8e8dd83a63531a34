import { defineCommand } from "./define.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

/** A run of the demo data. */
const demoRun = (folder: string) =>
  `jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run ${folder}`;

export const verify = defineCommand({
  name: "verify",
  summary: "works a run out again from its own folder and says whether every byte agrees",
  description:
    "Checks every file of a run folder (made by score --run) against its checksum, then works everything out again from the folder alone: the rows, the draw, the counts, the metrics, the scores. Nothing outside of the folder is read, so a run can be checked years later and on another machine.\n\nEvery difference is said in a sentence of its own: a changed, missing or added file, a result that does not follow from the rows, a reference set that is not the one the run says it used, a version of the draw that this program does not have. The answer is no (exit code 1) when there is one.",
  operands: [{ name: "<run...>", summary: "Run folders." }],
  options: [...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [
    {
      line: "jartally verify run-2023",
      after: [demoRun("run-2023")],
      explains: "Whether the run is still what it was on the day it was made.",
    },
    {
      line: "jartally verify run-2022 run-2023 --quiet -o verified.csv",
      after: [demoRun("run-2022"), demoRun("run-2023")],
      explains: "Two runs, file by file into a table; only differences are printed.",
    },
  ],
  run: async (context, input) => {
    const { planOutput } = await import("./output.ts");
    const { verifyRuns } = await import("./verify-run.ts");
    const plan = await planOutput(context, input.options, []);
    return verifyRuns(context, input.options, plan, input.operands);
  },
});
