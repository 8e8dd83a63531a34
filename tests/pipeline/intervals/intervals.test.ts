import { describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import type { ScoringChoices } from "../../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { resamplingPlan } from "../../../src/scoring/intervals/plan.ts";
import { expectedRichness } from "../../../src/subsample/expected-richness.ts";
import { loadSmall } from "../../helpers/small-batch.ts";

const COUNTS = [40, 25, 20, 15, 12, 9, 7, 5, 4, 3, 2, 2, 1, 1, 1, 1];
const TAXA = [
  "Baetis",
  "Simulium",
  "Hydropsyche",
  "Drunella",
  "Zapada",
  "Rhyacophila",
  "Epeorus",
  "Cinygmula",
  "Sweltsa",
  "Glossosoma",
  "Brachycentrus",
  "Optioservus",
  "Skwala",
  "Ameletus",
  "Lepidostoma",
  "Calineuria",
];
const SHEET = (ids: readonly string[]) =>
  `sample_id,taxon,count\n${ids.flatMap((id) => TAXA.map((taxon, at) => `${id},${taxon},${COUNTS[at]}`)).join("\n")}\n`;

async function scoresOf(
  ids: readonly string[],
  log: string,
  choices: Partial<ScoringChoices> = {},
  set: NonNullable<Parameters<typeof loadSmall>[0]["set"]> = {},
) {
  const loaded = await loadSmall({ sheet: SHEET(ids), log, set });
  if (loaded.batch === undefined) throw new Error(loaded.findings.map((one) => one.message).join());
  const resampling = resamplingPlan({ resamples: 300 });
  return [...scoreBatch(loaded.batch, { seed: "1", resampling, ...choices })];
}

describe("intervals of scores", () => {
  it("have no width when everything was sorted and every animal counts", async () => {
    const [one] = await scoresOf(["A"], "sample_id,stratum,fraction_sorted\nA,all,1\n");
    const interval = one?.score.interval;
    expect(interval?.low).toBe(16);
    expect(interval?.high).toBe(16);
    expect(interval?.support).toBe(1);
    expect(interval?.next).toBe(undefined);
    expect(interval?.metrics).toEqual([{ id: "taxa_richness", low: 16, high: 16, support: undefined }]);
  });

  it("have no width either when a draw is taken from a jar that was counted whole", async () => {
    const [one] = await scoresOf(["A"], "sample_id,stratum,fraction_sorted\nA,all,1\n", { target: 60 });
    const interval = one?.score.interval;
    expect(interval?.low).toBe(interval?.high);
    // Hurlbert's expectation of all draws of 60, within three standard errors of the mean of 300 draws.
    const { expected, standardError } = expectedRichness(COUNTS, 60);
    expect(Math.abs((interval?.low ?? 0) - expected)).toBeLessThan((3 * standardError) / Math.sqrt(300));
  });

  it("hold the score, and get wider the smaller the share that was sorted", async () => {
    const log = "sample_id,stratum,fraction_sorted\nA,all,0.9\nB,all,0.3\nC,all,0.01\nD,all,\n";
    const scored = await scoresOf(["A", "B", "C", "D"], log);
    const widths = scored.map(({ score }) => (score.interval?.high ?? 0) - (score.interval?.low ?? 0));
    // Numbers of taxa are whole, so that the widths of the last three may be equal or a taxon apart.
    const [most, ...others] = widths;
    expect(most).toBeGreaterThan(0);
    for (const width of others) expect(width).toBeGreaterThan((most ?? 0) + 1);
    for (const { score } of scored) {
      const index = score.index === undefined ? Number.NaN : toNumber(score.index);
      expect(score.interval?.low).toBeLessThanOrEqual(index);
      expect(score.interval?.high).toBeGreaterThanOrEqual(index);
    }
    const codes = scored.map(({ findings }) =>
      findings.map((one) => one.code).filter((code) => code === "endless-jar"),
    );
    expect(codes).toEqual([[], [], [], ["endless-jar"]]);
  });

  it("do not depend on the batch around the sample", async () => {
    const log = "sample_id,stratum,fraction_sorted\nA,all,0.3\nB,all,0.2\n";
    const [alone] = await scoresOf(["B"], log);
    const [, among] = await scoresOf(["A", "B"], log);
    expect(among?.score.interval).toEqual(alone?.score.interval);
  });

  it("of another draw are wider than those of the mean", async () => {
    const log = "sample_id,stratum,fraction_sorted\nA,all,0.3\n";
    const resampling = resamplingPlan({ resamples: 300, interval: "another-draw" });
    const [mean] = await scoresOf(["A"], log);
    const [other] = await scoresOf(["A"], log, { resampling });
    const width = (one: typeof mean) => (one?.score.interval?.high ?? 0) - (one?.score.interval?.low ?? 0);
    // Two draws of the same size differ by the square root of 2 more than one from the mean.
    expect(width(other) / width(mean)).toBeCloseTo(Math.SQRT2, 6);
  });

  it("are not given for expanded counts, and say so", async () => {
    const loaded = await loadSmall({
      sheet: `sample_id,taxon,count,count_basis\nA,Baetis,200,expanded\n`,
      log: "sample_id,stratum\nA,all\n",
    });
    if (loaded.batch === undefined) throw new Error("refused");
    const [one] = scoreBatch(loaded.batch, { seed: "1", resampling: resamplingPlan({ resamples: 10 }) });
    expect(one?.score.interval).toBe(undefined);
    expect(one?.score.flags).toContain("no-interval");
  });

  it("are not given for more animals than anybody counts, and say so", async () => {
    const loaded = await loadSmall({
      sheet: "sample_id,taxon,count\nA,Baetis,99999\nA,Zapada,2\nB,Baetis,99999\nB,Zapada,1\n",
      log: "sample_id,stratum\nA,all\nB,all\n",
    });
    if (loaded.batch === undefined) throw new Error("refused");
    const [over, within] = scoreBatch(loaded.batch, {
      seed: "1",
      target: 100,
      resampling: resamplingPlan({ resamples: 10 }),
    });
    expect(over?.score.interval).toBe(undefined);
    expect(over?.findings.find(({ code }) => code === "no-interval")?.message).toBe(
      "the certainty of A cannot be worked out: it has 100001 animals, and no more than 100000 are resampled",
    );
    expect(within?.score.flags).not.toContain("no-interval");
    expect(within?.score.interval?.low).toBeTypeOf("number");
  });
});
