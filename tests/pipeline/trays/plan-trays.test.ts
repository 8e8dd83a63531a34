import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../../src/findings/collector.ts";
import { planLog } from "../../../src/pipeline/trays/plan-log.ts";
import type { TrayChoices } from "../../../src/pipeline/trays/plan-trays.ts";
import { brief } from "../../helpers/reading.ts";
import { smallLog, TRAY_CHOICES } from "../../helpers/small-draw.ts";

async function plan(text: string, choices: Partial<TrayChoices> = {}) {
  const { log, findings: read } = await smallLog(text);
  const findings = new FindingCollector();
  const plans = planLog(log, { ...TRAY_CHOICES, ...choices }, findings);
  return { plans, findings: [...read.all, ...findings.all] };
}

describe("planning the trays of a log", () => {
  it("takes the tray of the log, and the given one otherwise", async () => {
    const given = [
      { rows: 3, columns: 4 },
      { rows: 2, columns: 2 },
    ];
    const { plans } = await plan("sample_id,tray\nA,5x6\nB,\nC,1 x 100\n", { trays: given });
    expect(plans.map(({ trays }) => [trays.trayOf(1), trays.trayOf(2)])).toEqual([
      [{ rows: 5, columns: 6 }, given[1]],
      [given[0], given[1]],
      [{ rows: 1, columns: 100 }, given[1]],
    ]);
    for (const { trays } of plans) {
      const all = Array.from({ length: trays.gridsOnTray(1) }, (_, at) => at + 1);
      expect([...trays.orderOf(1)].sort((a, b) => a - b)).toEqual(all);
    }
  });

  it("leaves out a sample whose tray is not known or cannot be read, and says so", async () => {
    const { plans, findings } = await plan("sample_id,tray\nA,\nB,30 grids\nC,5x6\n");
    expect(plans.map(({ sampleId }) => sampleId)).toEqual(["C"]);
    expect(findings.map(brief)).toEqual(["3:2 error bad-tray", "2:2 error no-tray"]);
  });

  it("takes the target of the log only where none is given, and 200 where neither says", async () => {
    const text = "sample_id,tray,target\nA,5x6,300\nB,5x6,\n";
    const targets = async (target: number | undefined) =>
      (await plan(text, { target })).plans.map(({ rule }) => [rule.range.lower, rule.range.upper]);
    expect(await targets(undefined)).toEqual([
      [240, 360],
      [160, 240],
    ]);
    expect(await targets(100)).toEqual([
      [80, 120],
      [80, 120],
    ]);
  });

  it("gives a sample the same order whatever else is in the log, and another with another seed", async () => {
    const order = async (text: string, seed = "7") =>
      (await plan(text, { seed })).plans.find(({ sampleId }) => sampleId === "A")?.trays.orderOf(1);
    const alone = await order("sample_id,tray\nA,5x6\n");
    expect(await order("sample_id,tray\nZ,4x4\nB,5x6\nA,5x6\n")).toEqual(alone);
    expect(await order("tray,note,sample_id\n5x6,wet,A\n")).toEqual(alone);
    expect(await order("sample_id,tray\nA,5x6\n", "8")).not.toEqual(alone);
  });

  it("marks a sample of which jars are missing", async () => {
    const text = "sample_id,tray,containers_expected,containers_received\nA,5x6,2,1\nB,5x6,2,2\n";
    const { plans, findings } = await plan(text);
    expect(plans.map(({ isHeldBack }) => isHeldBack)).toEqual([true, false]);
    expect(findings.map(brief)).toEqual(["2:4 warning jars-missing"]);
  });
});
