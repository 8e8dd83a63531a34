import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import type { ScoringChoices } from "../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../src/pipeline/score-batch.ts";
import type { SmallFiles } from "../helpers/small-batch.ts";
import { saying, smallBatch, valuesOf } from "../helpers/small-batch.ts";

const head = "sample_id,taxon,count,part,distinct,count_basis\n";
const names = "sheet_name,accepted_name\nBaetis,Baetis\nEphemerella,Ephemerella\n";

async function scored(files: SmallFiles, choices: Partial<ScoringChoices> = {}) {
  const batch = await smallBatch({ names, ...files });
  return [...scoreBatch(batch, { seed: "1", ...choices })].map(({ score, findings }) => ({
    ...valuesOf<"taxa_richness" | "all" | "flies" | "mayflies">(score),
    id: score.sampleId,
    counted: score.individualsCounted,
    scored: score.individualsScored,
    status: score.status,
    findings,
  }));
}

const abundance: Partial<SetDefinitionInput> = {
  metrics: [
    { id: "taxa_richness" },
    { id: "individuals" },
    { id: "estimated_total" },
    { id: "density_per_m2" },
  ],
};

describe("numbers of animals", () => {
  const log = "sample_id,fraction_sorted,area_sampled_m2\nA,0.25,0.5\n";

  it("counts what was counted, scores what the draw left, and estimates the whole from before the draw", async () => {
    const sheet = `${head}A,Epeorus,300,,,\nA,Baetis,100,,,\nA,Pteronarcys,1,large-rare,,\n`;
    const [one] = await scored({ sheet, log, set: abundance }, { target: 40 });
    expect(one).toMatchObject({
      counted: 400,
      scored: 40,
      taxa_richness: 3,
      individuals: 40,
      estimated_total: 1600, // 400 / 0.25
      density_per_m2: 3200, // 1600 / 0.5
    });
  });

  it("gives a group of a drawn sample its share of the whole", async () => {
    const sheet = `${head}A,Epeorus,400,,,\nA,Simulium,400,,,\n`;
    const set: Partial<SetDefinitionInput> = {
      metrics: [
        { id: "taxa_richness" },
        { id: "all", metric: "estimated_total" },
        { id: "flies", metric: "estimated_total", settings: { within: "Diptera" } },
        { id: "mayflies", metric: "estimated_total", settings: { within: "Ephemeroptera" } },
      ],
    };
    const [one] = await scored({ sheet, log, set }, { target: 100 });
    expect(one?.all).toBe(3200);
    expect((one?.flies ?? 0) + (one?.mayflies ?? 0)).toBeCloseTo(3200, 6);
  });

  it("takes expanded counts as those of the whole sample", async () => {
    const sheet = `${head}A,Epeorus,300,,,expanded\n`;
    const [one] = await scored({ sheet, log, set: abundance });
    expect(one).toMatchObject({ individuals: 300, estimated_total: 300, density_per_m2: 600 });
  });

  it("keeps the animals of parents among those scored when the rule leaves them out", async () => {
    const sheet = `${head}A,Heptageniidae,10,,,\nA,Epeorus,30,,,\n`;
    const [one] = await scored({ sheet, log, set: { ...abundance, parents: "remove" } });
    expect(one).toMatchObject({ counted: 40, scored: 40, individuals: 30, estimated_total: 120 });
  });
});

describe("the draw and what is distinct", () => {
  it("judges a record called not distinct again when the draw took the reason", async () => {
    // 1 Epeorus among 1000 animals is nearly always lost when 2 are drawn.
    const sheet = `${head}A,Heptageniidae,999,,no,\nA,Epeorus,1,,,\n`;
    const set: Partial<SetDefinitionInput> = {
      metrics: [
        { id: "taxa_richness" },
        { id: "epeorus", metric: "individuals", settings: { within: "Epeorus" } },
      ],
    };
    const [whole] = await scored({ sheet, set });
    expect(whole).toMatchObject({ epeorus: 1, taxa_richness: 1 });
    const [drawn] = await scored({ sheet, set }, { target: 2 });
    expect(drawn).toMatchObject({ epeorus: 0, taxa_richness: 1 });
  });
});

describe("scope batch", () => {
  const sheet = `${head}A,Heptageniidae,10,,,\nA,Simulium,5,,,\nB,Epeorus,30,,,\nB,Heptageniidae,2,,,\n`;

  it("drops a parent from richness when its finer records are in another sample", async () => {
    const bySample = await scored({ sheet });
    const byBatch = await scored({ sheet, set: { scope: "batch" } });
    expect(bySample.map((one) => one.taxa_richness)).toEqual([2, 1]);
    expect(byBatch.map((one) => one.taxa_richness)).toEqual([1, 1]);
  });

  it("looks at samples after their draws, and not at refused ones", async () => {
    const refused = `${sheet}C,Nobody,1,,,\nC,Simulium vittatum,1,,,\nC,Rhithrogena,1,,,\n`;
    const alone = `${head}A,Heptageniidae,10,,,\nA,Simulium,5,,,\nC,Nobody,1,,,\nC,Rhithrogena,1,,,\n`;
    const all = await scored({ sheet: refused, set: { scope: "batch" } });
    expect(all.map((one) => one.status)).toEqual(["scored", "scored", "refused"]);
    // Without B only the refused C would have a finer record of Heptageniidae.
    const [first] = await scored({ sheet: alone, set: { scope: "batch" } });
    expect(first?.taxa_richness).toBe(2);
  });

  it("shares the animals of a parent by the counts of the batch where the sample has no finer record", async () => {
    const set: Partial<SetDefinitionInput> = {
      scope: "batch",
      parents: "distribute",
      metrics: [
        { id: "taxa_richness" },
        { id: "epeorus", metric: "individuals", settings: { within: "Epeorus" } },
      ],
    };
    const [first] = await scored({ sheet, set });
    // All finer records of the batch are Epeorus, so the 10 Heptageniidae of A become Epeorus.
    expect(first).toMatchObject({ epeorus: 10, taxa_richness: 2 });
  });
});

describe("animals without a value of an attribute", () => {
  it("are said in percent when there are more than the set allows", async () => {
    const set: Partial<SetDefinitionInput> = {
      without_value_limit_percent: 25,
      metrics: [{ id: "taxa_richness" }, { id: "tolerance_index" }],
    };
    const [enough] = await scored({ sheet: `${head}A,Epeorus,75,,,\nA,Nematomorpha,25,,,\n`, set });
    expect(saying(enough?.findings ?? [], "without-value")).toEqual([]);
    const [many] = await scored({ sheet: `${head}A,Epeorus,74,,,\nA,Nematomorpha,26,,,\n`, set });
    expect(saying(many?.findings ?? [], "without-value")).toEqual([
      "2 warning 26 percent of the animals of A have no tolerance value (limit 25)",
    ]);
    expect(many).toMatchObject({ tolerance_index: 0, status: "flagged" });
  });
});
