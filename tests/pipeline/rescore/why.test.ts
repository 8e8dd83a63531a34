import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { toNumber } from "../../../src/model/exact.ts";
import type { RescoreSamplesRequest } from "../../../src/pipeline/rescore/rescore-samples.ts";
import { rescoreSamples } from "../../../src/pipeline/rescore/rescore-samples.ts";
import { RESCORE_COLUMNS, rescoreRow } from "../../../src/pipeline/rescore/rescore-table.ts";
import type { WhyRow } from "../../../src/pipeline/rescore/why-sample.ts";
import { scoreSamples } from "../../../src/pipeline/score-samples.ts";
import type { SmallSet } from "../../helpers/small-lab.ts";
import { smallLab, writeSmallSet } from "../../helpers/small-lab.ts";

let lab = "";
beforeAll(async () => {
  lab = smallLab();
  const request = { sheets: ["sheet.csv"], samples: "log.csv", reference: "./small-set", cwd: lab };
  await scoreSamples({ ...request, run: "run" });
});

const rescored = (more: Partial<RescoreSamplesRequest>) =>
  rescoreSamples({ runs: ["run"], cwd: lab, ...more });
let sets = 0;
/** What is behind the change of a sample under another set. */
async function whyOf(sampleId: string, set: SmallSet) {
  const folder = `set-${sets++}`;
  writeSmallSet(lab, { ...set, folder });
  const batch = await rescored({ reference: `./${folder}` });
  return batch.why(sampleId).map((row) => ({ ...row, placeAfter: row.placeAfter.replace(folder, "next") }));
}
type Why = readonly WhyRow[];
const brief = (rows: Why) =>
  rows.map(({ cause, item, what, before, after }) => [cause, item, what, before, after]);
const ofCause = (rows: Why, cause: Why[number]["cause"]) => rows.filter((row) => row.cause === cause);

const LINES = [
  ["tolerance_index", "0", "10", "10", "0"],
  ["taxa_richness", "0", "10", "0", "10"],
] as const;

describe("why a sample changed", () => {
  it("a taxon has no value any more, and what that does alone", async () => {
    const folder = writeSmallSet(lab, { folder: "less" });
    writeFileSync(
      join(folder, "taxa.csv"),
      "taxon,attribute,value\nLeuctra,tolerance,0\nChironomidae,tolerance,6\nGammarus,tolerance,4\n",
    );
    const batch = await rescored({ reference: "./less" });
    const [row] = batch.why("S-1");
    expect(row).toMatchObject({
      cause: "attributes",
      item: "Baetis",
      before: "5",
      after: "no value",
      placeBefore: "reference/sets/small-set/taxa.csv:2",
      // Without a row of its own only the list can be named.
      placeAfter: "made up",
    });
    // Leuctra alone has a mean of 0, which scores 10 in place of 7.5.
    expect(row?.alone === undefined ? undefined : toNumber(row.alone)).toBe(2.5);
  });

  it("values come from a table of the package: its file and line", async () => {
    const folder = writeSmallSet(lab, {
      folder: "shared",
      definition: { attributes: { tolerance: { scheme: "rbp1999-midwest" } } },
    });
    writeFileSync(join(folder, "taxa.csv"), "taxon,attribute,value\n");
    const rows = (await rescored({ reference: "./shared" })).why("S-3");
    const row = rows.find(({ item, cause }) => item === "Baetis" && cause === "attributes");
    expect(row?.placeBefore).toBe("reference/sets/small-set/taxa.csv:2");
    expect(row?.placeAfter).toMatch(/^reference-tables\/attributes\/tolerance\/rbp1999-midwest\.csv:\d+$/);
  });

  it("a metric came, another went", async () => {
    const rows = await whyOf("S-1", {
      definition: { metrics: [{ id: "tolerance_index" }, { id: "ept_richness" }] },
      thresholds: [LINES[0], ["ept_richness", "0", "10", "0", "10"]],
    });
    expect(brief(ofCause(rows, "metrics"))).toEqual([
      ["metrics", "taxa_richness", "metric", "in the set", "not in the set"],
      ["metrics", "ept_richness", "metric", "not in the set", "in the set"],
    ]);
    expect(brief(ofCause(rows, "result"))).toEqual([
      ["result", "animals", "scored", "20", "20"],
      ["result", "ept_richness", "value and score", "", "2, score 2"],
      ["result", "taxa_richness", "value and score", "2, score 2", ""],
      ["result", "tolerance_index", "value and score", "2.5, score 7.5", "2.5, score 7.5"],
      ["result", "index", "value and rating", "9.5, fair", "9.5, fair"],
    ]);
  });

  it("a metric has other settings", async () => {
    const metrics = [
      { id: "tolerance_index" },
      { id: "taxa_richness", settings: { within: ["Plecoptera"] } },
    ];
    const rows = await whyOf("S-1", { definition: { metrics } });
    expect(brief(ofCause(rows, "metrics"))).toEqual([
      ["metrics", "taxa_richness", "settings", "Taxa richness", 'Taxa richness, within ["Plecoptera"]'],
    ]);
    expect(brief(rows).at(-1)).toEqual(["result", "index", "value and rating", "9.5, fair", "8.5, fair"]);
  });

  it("a row of the thresholds was put in, or one is gone", async () => {
    const halves = [
      LINES[0],
      ["taxa_richness", "0", "5", "0", "5"],
      ["taxa_richness", "5", "10", "6", "10"],
    ] as const;
    const more = ofCause(await whyOf("S-1", { thresholds: halves.map((row) => row) }), "metrics");
    expect(
      more.map(({ what, before, after, placeBefore, placeAfter }) => [
        what,
        before,
        after,
        placeBefore,
        placeAfter,
      ]),
    ).toEqual([
      [
        "threshold",
        "[0, 10]: 0 to 10",
        "[0, 5]: 0 to 5",
        "reference/sets/small-set/thresholds.csv:3",
        "./next/thresholds.csv:3",
      ],
      ["threshold", "", "[5, 10]: 6 to 10", "", "./next/thresholds.csv:4"],
    ]);
  });

  it("a metric counts as it is: it has no score beside its value", async () => {
    const rows = await whyOf("S-1", { thresholds: [LINES[0]] });
    expect(brief(ofCause(rows, "result"))).toContainEqual([
      "result",
      "taxa_richness",
      "value and score",
      "2, score 2",
      "2",
    ]);
  });

  it("classes were taken away: an index without a rating", async () => {
    const rows = await whyOf("S-1", { definition: { ratings: { on: "unrounded", classes: [] } } });
    expect(brief(rows).at(-1)).toEqual(["result", "index", "value and rating", "9.5, fair", "9.5"]);
  });

  it("the lab's names know now what was no known taxon", async () => {
    const batch = await rescored({
      names: { name: "names.csv", content: "sheet_name,accepted_name\nZzyzx,Leuctra\n" },
    });
    const rows = batch.why("S-2");
    expect(brief(rows)).toContainEqual(["names", "Zzyzx", "taken as", "no known taxon, refused", "Leuctra"]);
    expect(brief(rows).slice(-1)).toEqual([
      ["result", "index", "value and rating", "refused", expect.stringMatching(/^\d/)],
    ]);
    expect(brief(rows)).toContainEqual(["result", "animals", "scored", "", "4"]);
    // A refused sample has no change to share out.
    const row = batch.samples.find(({ sampleId }) => sampleId === "S-2");
    if (row === undefined) throw new Error("no S-2");
    const cells = Object.fromEntries(
      RESCORE_COLUMNS.map(({ name }, at) => [name, rescoreRow(row, "run")[at]]),
    );
    expect(cells).toMatchObject({
      index_before: null,
      change: null,
      cause_names: null,
      attribution: "not-attributable",
      why: "refused before (unknown-taxon)",
      status_before: "refused",
    });
  });

  it("is undefined of a sample that the run does not have", async () => {
    expect((await rescored({ target: null })).why("Q")).toEqual([]);
  });
});

describe("the row of a sample", () => {
  it("has the parts of its change, which add up to it", async () => {
    writeSmallSet(lab, { folder: "harder", tolerance: { Baetis: "7" } });
    const batch = await rescored({ reference: "./harder" });
    const sample = batch.samples.find(({ sampleId }) => sampleId === "S-1");
    if (sample === undefined) throw new Error("no S-1");
    // Baetis at 7: a mean of 3.5, which scores 6.5.
    expect(rescoreRow(sample, "run")).toEqual([
      ...["S-1", 9.5, 8.5, "fair", "fair", -1],
      ...[0, 0, -1, 0, 0],
      ...["attributed", "", "scored", "scored", "run"],
    ]);
  });
});

describe("a change that cannot be shared out", () => {
  it("is given whole where a sample has no index with only a part of the differences", async () => {
    // Orders with values of orders: level and values go together, and neither without the other gives a mean.
    const folder = writeSmallSet(lab, {
      folder: "orders",
      definition: { level: { rank: "order", exceptions: [] } },
    });
    writeFileSync(
      join(folder, "taxa.csv"),
      "taxon,attribute,value\nEphemeroptera,tolerance,4\nPlecoptera,tolerance,1\n",
    );
    const batch = await rescored({ reference: "./orders" });
    const sample = batch.samples.find(({ sampleId }) => sampleId === "S-1");
    // A mean of 2.5 again, and two orders as there were two genera.
    expect(sample).toMatchObject({
      causes: undefined,
      notAttributable: "with only a part of the differences the sample has no index",
    });
    expect(sample?.change === undefined ? undefined : toNumber(sample.change)).toBe(0);
    // S-3 is another.
    expect([...batch.summary.notAttributable]).toContainEqual([
      "with only a part of the differences the sample has no index",
      2,
    ]);
  });

  it("is none where the index is a metric's own value on one side", async () => {
    writeSmallSet(lab, {
      folder: "plain",
      definition: { index: { method: "metric", metric: "tolerance_index" } },
    });
    const batch = await rescored({ reference: "./plain" });
    const sample = batch.samples.find(({ sampleId }) => sampleId === "S-1");
    expect(sample?.notAttributable).toBe(
      "the index is of another kind: made of scores in points, higher is better; now the value of a metric in points, higher is better",
    );
  });
});

describe("values of a table given for one run", () => {
  it("are said by scheme and taxon, since the table is no part of the package", async () => {
    writeFileSync(join(lab, "own.csv"), "taxon,attribute,value\nBaetis,tolerance,8\nLeuctra,tolerance,0\n");
    const batch = await rescored({ attributes: ["own.csv"] });
    const row = batch.why("S-1").find(({ cause }) => cause === "attributes");
    expect(row).toMatchObject({ item: "Baetis", before: "5", after: "8" });
    expect(row?.placeBefore).toBe("reference/sets/small-set/taxa.csv:2");
    expect(row?.placeAfter).toBe("own.csv: Baetis");
  });
});

describe("lists that cannot be read", () => {
  it("refuse the re-score before any run is opened", async () => {
    const batch = await rescored({ names: { name: "names.csv", content: "nothing\n1\n" } });
    expect([batch.samples, batch.refusedRuns]).toEqual([[], ["run"]]);
    expect(batch.findings.length).toBeGreaterThan(0);
  });
});
