import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import type { ComparedSample } from "../../../src/pipeline/rescore/compare.ts";
import { withoutMetrics } from "../../../src/pipeline/rescore/compare.ts";
import { findRuns } from "../../../src/pipeline/rescore/find-runs.ts";
import type { Rescored } from "../../../src/pipeline/rescore/rescore-runs.ts";
import { rescoreRuns } from "../../../src/pipeline/rescore/rescore-runs.ts";
import { rescoreRow } from "../../../src/pipeline/rescore/rescore-table.ts";
import { isChanged, summarise, summaryLines } from "../../../src/pipeline/rescore/summary.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import { smallLab } from "../../helpers/small-lab.ts";

const SHEET = `sample_id,taxon,count
A,Baetis,40
A,Leuctra,12
A,Chironomidae,30
B,Baetis,5
B,Chironomidae,60
C,Leuctra,2
D,no such animal,2
`;
const AMENDMENTS = `sample_id,taxon,old_count,new_count,reason
B,Chironomidae,60,1,slip
`;

let lab = "";
beforeAll(async () => {
  lab = smallLab();
  writeFileSync(join(lab, "sheet.csv"), SHEET);
  writeFileSync(join(lab, "amendments.csv"), AMENDMENTS);
  await scoreSamples({ sheets: ["sheet.csv"], reference: "./small-set", cwd: lab, run: "run" });
});

async function rescored(isAmended: boolean): Promise<Rescored<ComparedSample>> {
  const amend = isAmended ? inputFromBytes("amendments.csv", AMENDMENTS) : undefined;
  return rescoreRuns(await findRuns(["run"], lab), { cwd: lab, amend }, (sample) => sample);
}

describe("a comparison without its metrics", () => {
  it.each([true, false])(
    "says the same in rows, summary and changes (with a correction: %s)",
    async (isAmended) => {
      const { runs } = await rescored(isAmended);
      const brief = runs.map((run) => ({ ...run, samples: run.samples.map(withoutMetrics) }));
      expect(summaryLines(summarise(brief))).toEqual(summaryLines(summarise(runs)));
      const samples = runs.flatMap((run) => run.samples);
      const small = brief.flatMap((run) => run.samples);
      expect(small.map((one) => rescoreRow(one, "run"))).toEqual(
        samples.map((one) => rescoreRow(one, "run")),
      );
      expect(small.map(isChanged)).toEqual(samples.map(isChanged));
      expect(samples.map((one) => [one.sampleId, isChanged(one)])).toEqual([
        ["A", false],
        ["B", isAmended],
        ["C", false],
        ["D", false],
      ]);
      expect(small.map((one) => one.findings)).toEqual(samples.map((one) => one.findings));
    },
  );

  it("holds nothing of the metrics, and one outcome where a sample was scored once", async () => {
    const { runs } = await rescored(false);
    for (const sample of runs.flatMap((run) => run.samples)) {
      const brief = withoutMetrics(sample);
      expect(brief.after).toBe(brief.before);
      expect(Object.keys(brief.before).sort()).toEqual(["index", "rating", "status", "stratum"]);
    }
  });
});
