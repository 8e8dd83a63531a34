import { describe, expect, it } from "vitest";
import { drawBatch } from "../../../src/pipeline/subsample/draw-batch.ts";
import type { DrawChoices } from "../../../src/pipeline/subsample/drawn-sample.ts";
import {
  EXPECTED_COLUMNS,
  expectBatch,
  expectedRow,
} from "../../../src/pipeline/subsample/expected-batch.ts";
import { sheetColumns, sheetRows } from "../../../src/pipeline/subsample/sheet-rows.ts";
import { summaryColumns, summaryRow } from "../../../src/pipeline/subsample/summary-rows.ts";
import { drawnSamples, RULE, smallRows } from "../../helpers/small-draw.ts";

const HEAD = "sample_id,taxon,count,life_stage,part,number_of_taxa,distinct\n";
const SHEET = `${HEAD}A,Zapada,8,nymph,,,\nA,Simulium,6,,,2,yes\nA,Pteronarcys,2,,large-rare,,\nB,Glossosoma,4,case,,,\nC,Zzyzx,4,,,,\n`;
const LOG = "sample_id,site_id,fraction_sorted,area_sampled_m2\nA,V1,0.5,2\nB,V2,1,\n";

type Cells = Readonly<Record<string, unknown>>;
const asCells = (columns: readonly { readonly name: string }[], row: readonly unknown[]): Cells =>
  Object.fromEntries(columns.map(({ name }, at) => [name, row[at]]));

/** The sheet and the summary of a draw, as cells by column. */
async function written(choices: DrawChoices, sheet = SHEET, log: string | undefined = LOG) {
  const { rows, policy } = await smallRows(sheet, log);
  const shape = { by: choices.method.by, hasDraws: choices.draws !== undefined };
  const drawn = drawnSamples(rows, policy, choices);
  const blocks = drawBatch(rows, policy, choices);
  return {
    rows: [...blocks].flatMap((block) =>
      [...sheetRows(block, rows.table, shape)].map((row) => asCells(sheetColumns(shape), row)),
    ),
    summary: drawn.map((one) =>
      asCells(summaryColumns(shape), summaryRow(one, choices.method, choices.seed, shape)),
    ),
  };
}

describe("the sheet and the summary of a draw by individual", () => {
  it("keep stage, part, number of taxa and what is called distinct", async () => {
    const { rows } = await written({ method: { by: "individual", target: 100 }, seed: "7" });
    expect(rows).toEqual([
      {
        sample_id: "A",
        taxon: "Pteronarcys",
        count: 2,
        life_stage: "",
        part: "large-rare",
        distinct: "",
        number_of_taxa: null,
      },
      {
        sample_id: "A",
        taxon: "Simulium",
        count: 6,
        life_stage: "",
        part: "",
        distinct: "yes",
        number_of_taxa: 2,
      },
      {
        sample_id: "A",
        taxon: "Zapada",
        count: 8,
        life_stage: "nymph",
        part: "",
        distinct: "",
        number_of_taxa: null,
      },
      // Nothing of B counts: the row keeps the sample. C is refused and has none.
      {
        sample_id: "B",
        taxon: "Glossosoma",
        count: 0,
        life_stage: "",
        part: "",
        distinct: "",
        number_of_taxa: null,
      },
    ]);
  });

  it("say how each sample was drawn; what is not known stays empty", async () => {
    const { summary } = await written({ method: { by: "individual", target: 10 }, seed: "7" });
    expect(summary.map(({ seed: _, algorithm: __, ...row }) => row)).toEqual([
      {
        ...{
          sample_id: "A",
          site_id: "V1",
          status: "drawn",
          individuals_counted: 14,
          individuals_kept: 10,
          target: 10,
        },
        // 14 animals in half of the sample are 28, of two square metres 14.
        ...{ fraction_sorted: 0.5, estimated_total: 28, individuals_per_m2: 14, flags: "" },
      },
      {
        ...{
          sample_id: "B",
          site_id: "V2",
          status: "empty",
          individuals_counted: 0,
          individuals_kept: 0,
          target: 10,
        },
        ...{ fraction_sorted: 1, estimated_total: 0, individuals_per_m2: null, flags: expect.any(String) },
      },
      {
        ...{
          sample_id: "C",
          site_id: "",
          status: "refused",
          individuals_counted: null,
          individuals_kept: null,
          target: 10,
        },
        ...{ fraction_sorted: null, estimated_total: null, individuals_per_m2: null, flags: "unknown-taxon" },
      },
    ]);
    expect([summary[0]?.seed, summary[0]?.algorithm, summary[2]?.algorithm]).toEqual([
      "7",
      "fixed-count-individual/1",
      "",
    ]);
  });

  it("tell repeated draws apart", async () => {
    const { rows, summary } = await written({
      method: { by: "individual", target: 10 },
      seed: "7",
      draws: 2,
    });
    expect(new Set(rows.filter(({ sample_id }) => sample_id === "A").map(({ draw }) => draw))).toEqual(
      new Set([1, 2]),
    );
    expect(summary.filter(({ sample_id }) => sample_id === "A").map(({ draw }) => draw)).toEqual([1, 2]);
  });
});

describe("the sheet and the summary of a draw by grid", () => {
  const sheet = `sample_id,taxon,count,grid,tray_level\n${[1, 2, 3, 4].map((grid) => `A,Zapada,60,${grid},\n`).join("")}`;
  const log = "sample_id,site_id,tray,grids_sorted\nA,V1,5x6,5\n";

  it("name the grid of every row, the grids in the order drawn, and one without animals", async () => {
    const { rows, summary } = await written(
      { method: { by: "grid", rule: RULE, trays: [] } as DrawChoices["method"], seed: "7" },
      sheet,
      log,
    );
    const [row] = summary;
    expect(row).toMatchObject({ sample_id: "A", target: 200, lower: 160, upper: 240 });
    const grids = String(row?.grids).split(";");
    expect(new Set(rows.map(({ grid }) => grid))).toEqual(new Set(grids.filter((grid) => grid !== "empty")));
    expect(String(row?.animals_in_grids).split(";")).toHaveLength(grids.length);
    for (const one of rows) expect([one.taxon, one.tray_level]).toEqual(["Zapada", expect.anything()]);
  });
});

describe("the row of an expected richness", () => {
  it("has the expectation and its error, or nothing where there are too few animals", async () => {
    const { rows, policy } = await smallRows(
      "sample_id,taxon,count\nA,Zapada,3\nA,Simulium,2\nA,Physa,1\nB,Physa,1\nC,Zzyzx,3\nA,Gammarus,0\n",
    );
    const all = [...expectBatch(rows, policy, 2)].map((one) =>
      asCells(EXPECTED_COLUMNS, expectedRow(one, 2)),
    );
    // 26 / 15 and the root of 44 / 225: by hand in expected-batch.test.ts.
    expect(Object.values(all[0] ?? {})).toEqual(
      expect.arrayContaining([
        "A",
        6,
        3,
        expect.closeTo(26 / 15, 12),
        expect.closeTo(Math.sqrt(44) / 15, 12),
      ]),
    );
    expect(Object.values(all[1] ?? {}).filter((cell) => cell === null)).toHaveLength(2);
    expect(Object.values(all[2] ?? {}).filter((cell) => cell === null)).toHaveLength(4);
  });
});
