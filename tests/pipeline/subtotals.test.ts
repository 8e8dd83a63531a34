import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { SubtotalFinder } from "../../src/pipeline/subtotals.ts";
import { loadSmall } from "../helpers/small-batch.ts";

/** What is said of the samples of a sheet, sample by sample. */
async function subtotals(rows: readonly string[]): Promise<string[]> {
  const { batch } = await loadSmall({ sheet: `sample_id,taxon,count\n${rows.join("\n")}\n` });
  if (batch === undefined) throw new Error("no batch");
  const { table, names } = batch;
  const findings = new FindingCollector();
  const finder = new SubtotalFinder(table, names);
  const { order, starts } = table.bySample();
  for (let sample = 0; sample < table.samples.size; sample++)
    finder.report(table.samples.textOf(sample), order.subarray(starts[sample], starts[sample + 1]), findings);
  return findings.all.map((one) => `${one.line}:${one.column} ${one.severity} ${one.code} ${one.message}`);
}

describe("rows that seem to be subtotals", () => {
  it("are coarse names with as many animals as all finer ones, told once a sample", async () => {
    expect(
      await subtotals([
        "A,Ephemeroptera,12",
        "A,Epeorus,10",
        "A,Drunella,2",
        "A,Plecoptera,7",
        "A,Calineuria,7",
        "A,Insecta,19",
        "B,Epeorus,10",
      ]),
    ).toEqual([
      "2:2 warning possible-subtotal Ephemeroptera 12, Plecoptera 7, Insecta 19: as many animals as the rows of finer names within; if these rows are subtotals, animals of A count twice",
    ]);
  });

  it("are found where the subtotal stands below its rows, in two jars, and with subtotals of families", async () => {
    const rows = ["A,Epeorus,4", "A,Cinygmula,3", "A,Epeorus,4", "A,Heptageniidae,11", "A,Drunella,2"];
    expect((await subtotals([...rows, "A,Ephemeroptera,13"]))[0]).toMatch(
      /^5:2 warning possible-subtotal Heptageniidae 11, Ephemeroptera 13: /,
    );
  });

  it.each([
    ["another number", ["A,Ephemeroptera,13", "A,Epeorus,10", "A,Drunella,2"]],
    ["one finer row, which may be chance", ["A,Plecoptera,12", "A,Calineuria,12"]],
    ["few animals, which may be chance", ["A,Ephemeroptera,3", "A,Epeorus,1", "A,Drunella,2"]],
    ["rows of another sample", ["A,Ephemeroptera,12", "B,Epeorus,10", "B,Drunella,2"]],
    ["a genus and its species", ["A,Drunella,12", "A,Drunella grandis,2", "A,Drunella doddsii,10"]],
    ["no animals at all", ["A,Ephemeroptera,0", "A,Epeorus,0", "A,Drunella,0"]],
  ])("are not seen in %s", async (_, rows) => expect(await subtotals(rows)).toEqual([]));

  it("are looked for in each sample anew", async () => {
    expect(
      await subtotals([
        "A,Ephemeroptera,5",
        "A,Epeorus,5",
        "B,Ephemeroptera,12",
        "B,Epeorus,10",
        "B,Drunella,2",
      ]),
    ).toEqual([expect.stringMatching(/^4:2 .* animals of B count twice$/)]);
  });
});
