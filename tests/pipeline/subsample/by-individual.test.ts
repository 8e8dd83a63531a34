import { describe, expect, it } from "vitest";
import type { DrawChoices } from "../../../src/pipeline/subsample/drawn-sample.ts";
import { drawIndividuals } from "../../../src/subsample/draw-individuals.ts";
import { randomStream } from "../../../src/subsample/stream.ts";
import { brief } from "../../helpers/reading.ts";
import { saying, smallBatch } from "../../helpers/small-batch.ts";
import { smallDraw } from "../../helpers/small-draw.ts";

const choices = (target: number, more: Partial<DrawChoices> = {}): DrawChoices => ({
  method: { by: "individual", target },
  seed: "7",
  ...more,
});
const HEAD = "sample_id,taxon,count,life_stage,part,disposition,number_of_taxa\n";
const counts = (sample: { readonly remaining: readonly { readonly count: number }[] } | undefined) =>
  sample?.remaining.map(({ count }) => count);

describe("a draw by individual", () => {
  it("is the draw of the piles in code point order, with the stream of algorithm, seed and sample id", async () => {
    const [a] = await smallDraw(
      `${HEAD}A,Zapada,80,,,,\nA,Hesperoperla,70,,,,\nA,Simulium,50,,,,\n`,
      undefined,
      choices(100),
    );
    const stream = randomStream("fixed-count-individual/1", "7", "A");
    expect(counts(a)).toEqual(drawIndividuals([70, 50, 80], 100, stream));
    expect([a?.status, a?.counted, a?.kept, a?.algorithm]).toEqual([
      "drawn",
      200,
      100,
      "fixed-count-individual/1",
    ]);
  });

  it("lets animals leave that do not count, and never draws those of the large/rare search", async () => {
    const sheet = `${HEAD}A,Zapada,60,,,,\nA,Simulium,60,,,,\nA,Actinopterygii,500,,,,\nA,Pteronarcys,3,,large-rare,,\nA,Margaritifera,400,,,released,\nA,Physa,90,shell,,,\n`;
    const [a] = await smallDraw(sheet, undefined, choices(100));
    expect([a?.status, a?.counted, a?.kept]).toEqual(["drawn", 120, 100]);
    const parts = a?.remaining.map(({ largeRare, count }) => [largeRare, count]);
    expect(parts?.filter(([rare]) => rare)).toEqual([[true, 3]]);
    expect(parts?.reduce((sum, [rare, count]) => sum + (rare ? 0 : Number(count)), 0)).toBe(100);
  });

  it("keeps a find of the large/rare search of which no animal was counted, and no other pile without animals", async () => {
    const sheet = `${HEAD}A,Zapada,60,,,,\nA,Simulium,0,,,,\nA,Pteronarcys,0,,large-rare,,\n`;
    for (const target of [40, 100]) {
      const [a] = await smallDraw(sheet, undefined, choices(target));
      const said = a?.remaining.map(({ largeRare, count, numberOfTaxa }) => [largeRare, count, numberOfTaxa]);
      expect(said).toEqual([
        [true, 0, 1],
        [false, Math.min(60, target), 1],
      ]);
    }
  });

  it("draws before names are rolled up or parents shared out: a genus and its family are two piles", async () => {
    const [a] = await smallDraw(`${HEAD}A,Simuliidae,60,,,,\nA,Simulium,60,,,,\n`, undefined, choices(40));
    const stream = randomStream("fixed-count-individual/1", "7", "A");
    expect(counts(a)).toEqual(drawIndividuals([60, 60], 40, stream));
  });

  it("repeats: the first draw is the single one, later ones go on where the stream stands", async () => {
    const sheet = `${HEAD}A,Zapada,80,,,,\nA,Simulium,80,,,,\nB,Zapada,9,,,,\n`;
    const once = await smallDraw(sheet, undefined, choices(50));
    const often = await smallDraw(sheet, undefined, choices(50, { draws: 3 }));
    expect(often.map(({ sampleId, draw }) => `${sampleId}${draw}`)).toEqual([
      "A1",
      "A2",
      "A3",
      "B1",
      "B2",
      "B3",
    ]);
    expect(counts(often[0])).toEqual(counts(once[0]));
    const stream = randomStream("fixed-count-individual/1", "7", "A");
    const expected = [1, 2, 3].map(() => drawIndividuals([80, 80], 50, stream));
    expect(often.slice(0, 3).map(counts)).toEqual(expected);
    // What is said of a sample is said once.
    expect(often.flatMap((one) => one.findings).map(brief)).toEqual(["4:1 warning under-target"]);
  });

  it("tells a small sample that was sorted whole, one sorted in part, and one without animals apart", async () => {
    const log = "sample_id,fraction_sorted\nA,1\nB,0.2\nC,1\nD,0.5\n";
    const sheet = `${HEAD}A,Zapada,60,,,,\nB,Zapada,60,,,,\nC,Zapada,0,,,,\nD,Zapada,0,,,,\n`;
    const drawn = await smallDraw(sheet, log, choices(100));
    expect(drawn.map(({ status, flags }) => [status, flags])).toEqual([
      ["whole", []],
      ["under-target", ["under-target"]],
      ["empty", []],
      ["under-target", ["under-target"]],
    ]);
    expect(drawn[2]?.findings.map(brief)).toEqual(["4:1 note empty-sample"]);
  });

  it("puts few-grids beside a total that rests on less than a quarter of the tray, and prints it where totals are shown", async () => {
    const log = "sample_id,tray,grids_sorted,area_sampled_m2\nA,5x6,4,0.5\nB,5x6,8,0.5\n";
    const sheet = `${HEAD}A,Zapada,212,,,,\nB,Zapada,212,,,,\n`;
    const drawn = await smallDraw(sheet, log, choices(100));
    // 212 animals in 4 of 30 grids are 1590 (Barbour et al. 1999, EPA 841-B-99-002, ch. 7.3.1; input made up).
    expect(drawn.map((one) => [one.estimatedTotal, one.individualsPerM2, one.flags])).toEqual([
      [1590, 3180, ["few-grids"]],
      [795, 1590, []],
    ]);
    expect(drawn.flatMap((one) => one.findings)).toEqual([]);
    const shown = await smallDraw(sheet, log, choices(100, { showsEstimates: true }));
    expect(shown.flatMap((one) => one.findings).map((one) => one.message)).toEqual([
      "the estimated total of A, 1590, rests on 4 of 30 grids",
    ]);
  });

  it("never lets a row stand for more taxa than it has animals left, so that its sheet can be read again", async () => {
    const [a] = await smallDraw(
      `${HEAD}A,Chironomidae,20,,,,9\nA,Simulium,480,,,,\n`,
      undefined,
      choices(40),
    );
    for (const { count, numberOfTaxa } of a?.remaining ?? []) expect(numberOfTaxa).toBeLessThanOrEqual(count);
    expect(a?.remaining.map(({ numberOfTaxa }) => numberOfTaxa)).toContain(1);
  });

  it("refuses to draw from expanded counts, and goes on with the other samples", async () => {
    const sheet = "sample_id,taxon,count,count_basis\nA,Zapada,300,expanded\nB,Zapada,300,\n";
    const drawn = await smallDraw(sheet, undefined, choices(100));
    expect(drawn.map(({ status }) => status)).toEqual(["refused", "drawn"]);
    expect(drawn[0]?.findings.map(brief)).toEqual(["2:1 error expanded-counts"]);
  });
});

describe("the estimate in scores", () => {
  const few = async (metrics: { readonly id: string }[], grids: number) => {
    const { scoreBatch } = await import("../../../src/pipeline/score-batch.ts");
    const batch = await smallBatch({
      sheet: "sample_id,taxon,count\nA,Zapada,212\n",
      log: `sample_id,tray,grids_sorted,area_sampled_m2\nA,5x6,${grids},0.5\n`,
      set: { metrics: [{ id: "taxa_richness" }, ...metrics] },
    });
    const choices = { seed: "1", target: undefined, stratum: undefined };
    return [...scoreBatch(batch, choices)].flatMap(({ findings }) => saying(findings, "few-grids"));
  };

  it("carries few-grids where a total or a density is among the metrics, and only there", async () => {
    const said = ["2 note the estimated total of A, 1590, rests on 4 of 30 grids"];
    expect(await few([{ id: "density_per_m2" }], 4)).toEqual(said);
    expect(await few([{ id: "estimated_total" }], 4)).toEqual(said);
    expect(await few([{ id: "density_per_m2" }], 8)).toEqual([]);
    expect(await few([], 4)).toEqual([]);
  });
});
