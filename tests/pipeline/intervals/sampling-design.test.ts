import { describe, expect, it } from "vitest";
import { sampleDesign } from "../../../src/pipeline/intervals/sampling-design.ts";
import { SamplePreparer } from "../../../src/pipeline/prepare-sample.ts";
import { smallBatch } from "../../helpers/small-batch.ts";

/** The design of a sample of a sheet with grids and trays, and a log. */
async function designOf(rows: string, log = "") {
  const batch = await smallBatch({
    sheet: `sample_id,taxon,count,grid,tray_level,part\n${rows}`,
    ...(log === "" ? {} : { log: `sample_id,stratum,tray,grids_sorted,fraction_sorted\nA,all,${log}\n` }),
  });
  const prepared = new SamplePreparer(batch, { seed: "1" }).prepare(0, { add() {} } as never);
  if (prepared.kind === "stopped") throw new Error("stopped");
  const { gathered, drawn, counted, one } = prepared;
  return sampleDesign({
    table: batch.table,
    rows: gathered.rows,
    main: drawn.piles.filter((pile) => !pile.largeRare),
    facts: one.facts,
    counted,
    kept: drawn.kept,
  });
}
const TWO = "A,Baetis,6,3,,\nA,Simulium,4,7,,\n";

describe("how a sample was picked", () => {
  it("by grids, of a tray of 30: the animals of each grid, and the jar from the share of the tray", async () => {
    const { design, grids } = await designOf(TWO, "5x6,2,");
    // 10 animals in 2 of 30 grids.
    expect(design).toMatchObject({
      kind: "grids",
      grids: 2,
      onTray: 30,
      jar: 150,
      counted: 10,
      isWhole: false,
      isDrawnEndless: false,
    });
    expect(grids?.map((one) => [...one])).toEqual([
      [6, 0],
      [0, 4],
    ]);
  });

  it("with grids of which the log knows and no row speaks: they held no animal", async () => {
    const { design, grids } = await designOf(TWO, "5x6,5,");
    expect(design).toMatchObject({ grids: 5, jar: 60 });
    expect(grids?.map((one) => one.reduce((sum, count) => sum + count, 0))).toEqual([6, 4, 0, 0, 0]);
  });

  it("with a share sorted in the log, which goes before the tray", async () => {
    expect((await designOf(TWO, "5x6,2,0.1")).design).toMatchObject({ onTray: 30, jar: 100 });
    // Without a tray the share says how many grids there were: 2 / 0.1.
    expect((await designOf(TWO, ",2,0.1")).design).toMatchObject({ onTray: 20, jar: 100 });
  });

  it("with a share so small that no tray has so many grids: of an endless tray", async () => {
    // 2 of 10,000 grids, which the largest tray has; 2 of 20,000.
    expect((await designOf(TWO, ",,0.0002")).design).toMatchObject({ onTray: 10_000, isDrawnEndless: false });
    const { design } = await designOf(TWO, ",,0.0001");
    expect(design).toMatchObject({ onTray: undefined, isDrawnEndless: true, jar: 100_000 });
  });

  it("without tray and share: of a jar taken as endless", async () => {
    for (const log of ["", ",2,"])
      expect((await designOf(TWO, log)).design).toMatchObject({
        kind: "grids",
        onTray: undefined,
        jar: undefined,
        isWhole: false,
        isDrawnEndless: true,
      });
  });

  it("on two trays: grids of one number on both are two, and the log's numbers of one tray do not hold", async () => {
    const rows = "A,Baetis,6,3,1,\nA,Simulium,4,3,2,\n";
    const { design, grids } = await designOf(rows, "5x6,9,0.05");
    expect(design).toMatchObject({ grids: 2, onTray: 40, jar: 200 });
    expect(grids).toHaveLength(2);
    // A row without a level is of the first tray.
    expect(
      (await designOf("A,Baetis,6,3,1,\nA,Simulium,4,3,,\nA,Simulium,4,4,,\n", "5x6,2,")).design.grids,
    ).toBe(2);
  });

  it("as single animals where a row names no grid, or there is one grid only", async () => {
    const none = { kind: "animals", grids: 0, onTray: undefined };
    expect((await designOf(`${TWO}A,Epeorus,1,,,\n`, "5x6,2,0.5")).design).toMatchObject({
      ...none,
      jar: 22,
    });
    expect((await designOf("A,Baetis,6,3,,\n", "5x6,1,")).design).toMatchObject({ ...none, jar: 180 });
    expect((await designOf("A,Baetis,6,,,\n", ",,1")).design).toMatchObject({
      ...none,
      jar: 6,
      isWhole: true,
    });
  });

  it("by grids whatever the search for large and rare animals found, and rows without animals", async () => {
    const rows = `${TWO}A,Pteronarcys,1,,,large-rare\nA,Epeorus,0,,,\n`;
    expect((await designOf(rows, "5x6,2,")).design).toMatchObject({ kind: "grids", grids: 2, counted: 10 });
  });

  it("whole where every grid of the tray was picked", async () => {
    expect((await designOf(TWO, "1x2,2,")).design).toMatchObject({
      kind: "grids",
      onTray: 2,
      jar: 10,
      isWhole: true,
    });
  });
});
