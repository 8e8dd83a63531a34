import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { RowKinds } from "../../src/pipeline/row-kinds.ts";
import { loadSmall } from "../helpers/small-batch.ts";

/** The kinds of the rows of a sheet, row by row. */
async function kindsOf(rows: readonly string[]) {
  const { batch } = await loadSmall({ sheet: `sample_id,taxon,count,life_stage\n${rows.join("\n")}\n` });
  if (batch === undefined) throw new Error("no batch");
  const { table, names, compiled } = batch;
  const kinds = new RowKinds(names, compiled.policy);
  return rows.map((_, row) => kinds.of(table.nameAndStageAt(row)));
}

describe("kinds of rows", () => {
  it("take the stage of the column, and that of the name where the column says none", async () => {
    const kinds = await kindsOf(["A,Optioservus (L),1,", "A,Optioservus (L),1,adult", "A,Baetis,1,"]);
    expect(kinds.map((kind) => kind?.stage)).toEqual(["larva", "adult", "unknown"]);
  });

  it("have one order for names that normalise alike, by name and then by stage", async () => {
    const [upper, lower, adult, later] = await kindsOf([
      "A,Baetis,1,larva",
      "A,baetis,1,larva",
      "A,Baetis,1,adult",
      "A,Epeorus,1,egg",
    ]);
    expect(upper?.order).toBe(lower?.order);
    expect([upper, lower, adult, later].map((kind) => kind?.slot)).toEqual([0, 0, 1, 2]);
    expect((adult?.order ?? 0) - (upper?.order ?? 0)).toBe(
      LIFE_STAGES.indexOf("adult") - LIFE_STAGES.indexOf("larva"),
    );
    expect(later?.order).toBeGreaterThan(adult?.order ?? 0);
    expect(later?.key).toBe((upper?.key ?? 0) + 1);
  });

  it("are none for names that are no taxon", async () => {
    expect(await kindsOf(["A,Baetix,1,larva"])).toEqual([undefined]);
  });

  it("say whether such animals count, and are worked out once", async () => {
    const [animals, skins, again] = await kindsOf([
      "A,Baetis,1,larva",
      "A,Baetis,1,exuviae",
      "B,Baetis,2,larva",
    ]);
    expect(animals?.decision.policy).toBe("count");
    expect(skins?.decision.policy).toBe("exclude");
    expect(again).toBe(animals);
  });
});
