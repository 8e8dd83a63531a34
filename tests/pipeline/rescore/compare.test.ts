import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import type { ComparedSample } from "../../../src/pipeline/rescore/compare.ts";
import { findRuns } from "../../../src/pipeline/rescore/find-runs.ts";
import { rescoreRuns } from "../../../src/pipeline/rescore/rescore-runs.ts";
import { isChanged } from "../../../src/pipeline/rescore/summary.ts";
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

async function rescored(isAmended: boolean): Promise<ComparedSample[]> {
  const amend = isAmended ? inputFromBytes("amendments.csv", AMENDMENTS) : undefined;
  const samples: ComparedSample[] = [];
  await rescoreRuns(await findRuns(["run"], lab), { cwd: lab, amend }, (sample) => samples.push(sample));
  return samples;
}

describe("samples compared", () => {
  it.each([true, false])(
    "come one by one, and say what changed (with a correction: %s)",
    async (isAmended) => {
      const samples = await rescored(isAmended);
      expect(samples.map((one) => [one.sampleId, isChanged(one)])).toEqual([
        ["A", false],
        ["B", isAmended],
        ["C", false],
        ["D", false],
      ]);
    },
  );

  it("were scored once where nothing differs", async () => {
    for (const sample of await rescored(false)) expect(sample.after).toBe(sample.before);
  });
});
