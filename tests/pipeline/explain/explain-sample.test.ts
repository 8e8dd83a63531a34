import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import { toNumber } from "../../../src/model/exact.ts";
import { valueAsNumber } from "../../../src/model/metric-value.ts";
import { numberText } from "../../../src/model/number-text.ts";
import { explainSample } from "../../../src/pipeline/explain/explain-sample.ts";
import type { SampleStory } from "../../../src/pipeline/explain/story.ts";
import { metricRows, storyRows } from "../../../src/pipeline/explain/story-rows.ts";
import { loadBatch } from "../../../src/pipeline/load.ts";
import type { ScoringChoices } from "../../../src/pipeline/score-batch.ts";
import { scoreBatch } from "../../../src/pipeline/score-batch.ts";
import { REPOSITORY } from "../../helpers/run-jartally.ts";
import type { SmallFiles } from "../../helpers/small-batch.ts";
import { smallBatch } from "../../helpers/small-batch.ts";

const head = "sample_id,taxon,count,life_stage,part,disposition,container\n";

async function storyOf(files: SmallFiles, choices: Partial<ScoringChoices> = {}): Promise<SampleStory> {
  const story = explainSample(await smallBatch(files), { seed: "1", ...choices }, "A");
  if (story === undefined) throw new Error("no sample A");
  return story;
}

describe("the rows of a sample", () => {
  let story: SampleStory;
  beforeAll(async () => {
    const sheet = `${head}A,Epeorus,9,nymph,,,1 of 2\nB,Simulium,1,,,,\nA,Acarina,3,,,,\nA,Glossosoma,4,case,,,\nA,Gonidea,2,,,released,\nA,Pteronarcys,1,nymph,large-rare,,\nA,cricotopus sp.,5,L,,,\n`;
    story = await storyOf({ sheet, names: "sheet_name,accepted_name\nEpeorus,Epeorus\n" });
  });

  it("say where each stands, what it was taken as and how, and what became of it", () => {
    expect(story.rows.map((row) => [row.place.line, row.written, row.taxon, row.stage, row.fate])).toEqual([
      [2, "Epeorus", "Epeorus", "nymph", "counts"],
      [4, "Acarina", "Acari", "unknown", "counts"],
      [5, "Glossosoma", "Glossosoma", "case", "excluded"],
      [6, "Gonidea", "Gonidea", "unknown", "released"],
      [7, "Pteronarcys", "Pteronarcys", "nymph", "counts"],
      [8, "cricotopus sp.", "Cricotopus", "larva", "counts"],
    ]);
    expect(story.rows.map((row) => row.how)).toEqual([
      "through the lab's own list",
      expect.stringMatching(/^through the table of synonyms: /),
      "as the tree has it",
      "as the tree has it",
      "as the tree has it",
      "in another spelling",
    ]);
    expect(story.rows[0]).toMatchObject({ container: "1 of 2", largeRare: false });
    expect(story.rows[4]?.largeRare).toBe(true);
    expect(story.rows[2]?.why).toBe("empty case: not an animal");
    expect(story.rows[3]?.why).toBe("put back alive: recorded, not counted");
  });

  it("show large/rare finds as taxa without animals", () => {
    const found = story.taxa.find((one) => one.taxon === "Pteronarcys");
    expect(found).toMatchObject({ before: 0, after: 0, richness: 1, share: 0 });
  });
});

describe("a sample that was stopped", () => {
  it("shows its rows and says which name is not known", async () => {
    const story = await storyOf({ sheet: `${head}A,Epeoruss,9,,,,\nA,Simulium,1,,,,\n` });
    expect(story.score.status).toBe("refused");
    expect(story.rows[0]).toMatchObject({ fate: "refused", taxon: "" });
    expect(story.rows[0]?.how).toMatch(/"Epeoruss" is no known taxon; close names: Epeorus/);
    expect(story).toMatchObject({ draw: undefined, taxa: [], metrics: [], index: undefined });
  });

  it("is undefined for a sample that is not there", async () => {
    const batch = await smallBatch({ sheet: `${head}A,Epeorus,9,,,,\n` });
    expect(explainSample(batch, { seed: "1" }, "Z")).toBeUndefined();
  });
});

describe("attributes and parents", () => {
  it("name the taxon whose row gave a value, its source and how it was checked", async () => {
    const story = await storyOf({
      sheet: `${head}A,Hesperoperla,3,,,,\nA,Nematomorpha,1,,,,\n`,
      set: { metrics: [{ id: "taxa_richness" }, { id: "tolerance_index" }] },
    });
    expect(story.taxa.find((one) => one.taxon === "Hesperoperla")?.attributes).toEqual([
      {
        attribute: "tolerance",
        scheme: "rbp1999-northwest",
        value: "1",
        from: "Perlidae",
        sourceId: "rbp1999",
        verified: "seen",
      },
    ]);
    expect(story.taxa.find((one) => one.taxon === "Nematomorpha")?.attributes[0]?.value).toBe("");
    const parts = story.metrics[1]?.parts.map((part) => [
      part.taxon,
      part.counted,
      part.value,
      part.valueFrom,
    ]);
    expect(parts).toEqual([
      ["Hesperoperla", true, "1", "Perlidae"],
      ["Nematomorpha", false, "", ""],
    ]);
    expect(story.metrics[1]?.parts[1]?.why).toBe("no tolerance value in rbp1999-northwest");
    expect(story.metrics[1]?.arithmetic).toBe("3 / 3 = 1");
  });

  it("tell what rolled up, what a parent adds and where its animals went", async () => {
    const sheet = `${head}A,Heptageniidae,10,,,,\nA,Epeorus,30,,,,\nA,Rhithrogena,10,,,,\nA,Cricotopus,2,,,,\nA,Tanytarsus,3,,,,\n`;
    const level = { rank: "genus", exceptions: [{ taxon: "Chironomidae", rank: "family" }] } as {
      rank: "genus";
      exceptions: { taxon: string; rank: "family" }[];
    };
    const story = await storyOf({ sheet, set: { level, parents: "distribute" } });
    expect(story.parents).toBe("distribute, over the sample");
    expect(story.taxa.map((one) => [one.taxon, one.before, one.after, one.richness])).toEqual([
      ["Chironomidae", 5, 5, 1],
      ["Epeorus", 30, 37.5, 1],
      ["Heptageniidae", 10, 0, 0],
      ["Rhithrogena", 10, 12.5, 1],
    ]);
    expect(story.taxa[0]?.madeOf).toEqual(["Cricotopus", "Tanytarsus"]);
    expect(story.moves).toEqual([
      { from: "Heptageniidae", to: "Epeorus", animals: 7.5 },
      { from: "Heptageniidae", to: "Rhithrogena", animals: 2.5 },
    ]);
    const distinct = await storyOf({ sheet, set: { level } });
    expect(distinct.taxa[2]?.why).toBe(
      "finer records stand for it: Epeorus, Rhithrogena; coarser than the set's level",
    );
  });
});

describe("families that the set's list scores as one", () => {
  it("are told with what they are scored as", async () => {
    // score-as.csv: crane flies were one family when the list of 1988 was made (from memory).
    const story = await storyOf({
      sheet: `${head}A,Limoniidae,2,,,,\nA,Tipulidae,3,,,,\n`,
      set: { attributes: { tolerance: { scheme: "hilsenhoff-1988-family" } } },
    });
    expect(story.merges).toEqual([{ taxon: "Limoniidae", scoredAs: "Tipulidae" }]);
    expect(story.taxa.map((one) => [one.taxon, one.after, one.madeOf])).toEqual([
      ["Tipulidae", 5, ["Limoniidae", "Tipulidae"]],
    ]);
  });
});

describe("thresholds and index", () => {
  const thresholds = "all,taxa_richness,value,1,yes,3,no,0,2,,,,\nall,taxa_richness,value,3,yes,,,5,5,,,,\n";
  const set = {
    metrics: [{ id: "taxa_richness" }],
    index: { method: "sum" as const },
    ratings: {
      on: "unrounded" as const,
      classes: [
        { rating: "good", lower: 3, lower_included: true },
        { rating: "poor", upper: 3, upper_included: false },
      ],
    },
  };

  it("point at the very row of the thresholds and the nearest limit", async () => {
    const story = await storyOf({ sheet: `${head}A,Epeorus,9,,,,\nA,Simulium,1,,,,\n`, set, thresholds });
    const [metric] = story.metrics;
    expect(metric?.segments.map((segment) => segment.line)).toEqual([2, 3]);
    expect(metric?.segment?.line).toBe(2);
    expect(metric?.scoreArithmetic).toBe("0 + 2 x (2 - 1) / (3 - 1)");
    expect(story.index).toMatchObject({ arithmetic: "1 = 1", rating: "poor", whyNone: "" });
    expect(story.index?.next?.rating).toBe("good");
    expect(toNumber(story.index?.next?.distance ?? { num: 0, den: 1 })).toBe(2);
  });

  it("say why there is no index", async () => {
    const least = await storyOf({
      sheet: `${head}A,Epeorus,9,,,,\nA,Simulium,1,,,,\n`,
      set: { ...set, count_rule: { target: null, least: 100, below_least: "no-index" } },
      thresholds,
    });
    expect(least.index?.whyNone).toBe("fewer animals than 100: the set gives no index");
    const unscored = await storyOf({
      sheet: `${head}A,Epeorus,0,,,,\n`,
      set: { ...set, index: { method: "sum", clip_scores: false } },
      thresholds,
    });
    expect(unscored.index?.whyNone).toBe("no score for taxa_richness");
  });
});

describe("the story of every demo sample", () => {
  it("tells the numbers that score prints", async () => {
    const demo = (name: string) => inputFromBytes(name, readFileSync(join(REPOSITORY, "demo-data", name)));
    const { batch } = await loadBatch(
      { sheets: [demo("bench-sheet.csv")], sampleLog: demo("sample-log.csv"), names: demo("names.csv") },
      "vennaloo-demo",
      REPOSITORY,
    );
    if (batch === undefined) throw new Error("the demo does not load");
    for (const { score } of scoreBatch(batch, { seed: "1" })) {
      const story = explainSample(batch, { seed: "1" }, score.sampleId);
      if (story === undefined) throw new Error(`no story of ${score.sampleId}`);
      expect(story.score).toEqual(score);
      const counted = story.rows.reduce(
        (sum, row) => (row.fate === "counts" && !row.largeRare ? sum + row.count : sum),
        0,
      );
      expect(counted).toBe(score.individualsCounted);
      expect(story.taxa.reduce((sum, one) => sum + one.after, 0)).toBe(score.individualsScored);
      for (const metric of story.metrics) {
        const shown = numberText(valueAsNumber(metric.value) ?? Number.NaN);
        expect(metric.arithmetic?.endsWith(`= ${shown}`), `${score.sampleId} ${metric.id}`).toBe(true);
        expect([...metricRows(story, metric)].length).toBe(1 + metric.segments.length + metric.parts.length);
      }
      const ends = [...storyRows(story)].filter(([, step]) => step === "index").map((row) => row[2]);
      expect(ends).toEqual(["unrounded", "index", "rating", "distance"]);
    }
  });
});
