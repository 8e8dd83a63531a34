import { describe, expect, it } from "vitest";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import { loadSmall } from "../../helpers/small-batch.ts";

/** Two taxa, clumped: grids hold nearly all of one or of the other. */
const GRIDS: readonly (readonly [string, number, number])[] = [
  ["3", 20, 0],
  ["7", 1, 18],
  ["12", 19, 2],
  ["20", 0, 21],
  ["28", 22, 1],
];
const SET = {
  metrics: [{ id: "share", metric: "percent_individuals", settings: { within: ["Baetis"] } }],
  index: { method: "metric", metric: "share" },
  ratings: { on: "unrounded", classes: [{ rating: "any", lower: 0, lower_included: true }] },
} as const;

async function intervalOf(options: { grids: boolean; log: string; order?: "turned" }) {
  const rows = GRIDS.flatMap(([grid, baetis, simulium]) => {
    const at = options.grids ? grid : "";
    return [`A,Baetis,${baetis},${at}`, `A,Simulium,${simulium},${at}`];
  });
  if (options.order === "turned") rows.reverse();
  const loaded = await loadSmall({
    sheet: `sample_id,taxon,count,grid\n${rows.join("\n")}\n`,
    log: `sample_id,stratum,tray,grids_sorted\nA,all,${options.log}\n`,
    set: SET as never,
  });
  if (loaded.batch === undefined) throw new Error(loaded.findings.map((one) => one.message).join());
  const [one] = scoreBatch(loaded.batch, { seed: "1", resampling: resamplingPlan({ resamples: 2000 }) });
  const { interval } = one?.score ?? {};
  return {
    sources: interval?.sources,
    low: interval?.low,
    high: interval?.high,
    width: (interval?.high ?? Number.NaN) - (interval?.low ?? Number.NaN),
    codes: one?.findings.map(({ code }) => code),
  };
}

describe("intervals of samples with grids", () => {
  it("resample whole grids: clumped animals give a much wider interval, and it is said when they cannot", async () => {
    const clumped = await intervalOf({ grids: true, log: "5x6,5" });
    const even = await intervalOf({ grids: false, log: "5x6,5" });
    expect(clumped.sources).toEqual(["subsampling", "clumping"]);
    expect(even.sources).toEqual(["subsampling"]);
    expect(clumped.width / even.width).toBeGreaterThan(3);
    expect(clumped.codes).not.toContain("clumping-not-covered");
    expect(even.codes).toContain("clumping-not-covered");
  });

  it("are as wide as the variance of a ratio over grids says", async () => {
    // The linearised variance of a ratio r = sum y / sum x over 5 of 30 grids (Cochran 1977, Sampling Techniques,
    // 6.4): (1 - 5/30) / 5 x sum (y - r x)^2 / 4 / mean(x)^2; and Student's t with 4 degrees of freedom.
    const total = GRIDS.map(([, baetis, simulium]) => baetis + simulium);
    const all = total.reduce((sum, x) => sum + x, 0);
    const ratio = GRIDS.reduce((sum, [, baetis]) => sum + baetis, 0) / all;
    const squares = GRIDS.reduce((sum, [, y], at) => sum + (y - ratio * (total[at] ?? 0)) ** 2, 0);
    const variance = (((1 - 5 / 30) / 5) * (squares / 4)) / (all / 5) ** 2;
    const expected = 2 * 2.1318468 * 100 * Math.sqrt(variance);
    const { width } = await intervalOf({ grids: true, log: "5x6,5" });
    // The bounds of a percentage are 0 and 100, and neither is met here.
    expect(width / expected).toBeGreaterThan(0.93);
    expect(width / expected).toBeLessThan(1.07);
  });

  it("have no width when all grids were sorted", async () => {
    const { width } = await intervalOf({ grids: true, log: "1x5,5" });
    expect(width).toBe(0);
  });

  it("know of grids that held no animal", async () => {
    // Seven grids were sorted, two of them empty: more grids, but none with another share.
    const seven = await intervalOf({ grids: true, log: "5x6,7" });
    const five = await intervalOf({ grids: true, log: "5x6,5" });
    expect(seven.width).not.toBe(five.width);
    expect(seven.width).toBeGreaterThan(0);
  });

  it("do not depend on the order of the rows", async () => {
    const one = await intervalOf({ grids: true, log: "5x6,5" });
    const other = await intervalOf({ grids: true, log: "5x6,5", order: "turned" });
    expect([other.low, other.high]).toEqual([one.low, one.high]);
  });
});
