import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { RANKS } from "../../src/model/taxon-tree.ts";
import { gatherPiles } from "../../src/pipeline/sample-piles.ts";
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

  it("are those that a sum over every pair of rows finds", async () => {
    const names = [
      "Insecta",
      "Ephemeroptera",
      "Heptageniidae",
      "Epeorus",
      "Cinygmula",
      "Ephemerellidae",
      "Drunella",
      "Drunella lata",
      "Plecoptera",
      "Calineuria",
    ];
    const row = fc.tuple(
      fc.constantFrom("A", "B"),
      fc.constantFrom(...names),
      fc.constantFrom(0, 2, 5, 10, 12, 15),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 12 }), async (rows) => {
        const { batch } = await loadSmall({
          sheet: `sample_id,taxon,count\n${rows.map((cells) => cells.join(",")).join("\n")}\n`,
        });
        if (batch === undefined) throw new Error("no batch");
        const { tree } = batch.names;
        const taxonOf = (name: string) => tree.numberOf(name) ?? -1;
        const told = new Map<string, string>();
        for (const sample of ["A", "B"]) {
          const own = rows.filter(([id]) => id === sample);
          const animalsOf = (test: (name: string) => boolean) =>
            own.reduce((sum, [, name, count]) => sum + (test(name) ? count : 0), 0);
          const rowsOf = (test: (name: string) => boolean) => own.filter(([, name]) => test(name)).length;
          const coarse = [...new Set(own.map(([, name]) => name))].filter(
            (name) => RANKS.indexOf(tree.rankOf(taxonOf(name))) <= RANKS.indexOf("family"),
          );
          const found: { name: string; animals: number; isPlain: boolean }[] = [];
          for (const name of coarse.sort((a, b) => tree.depthOf(taxonOf(b)) - tree.depthOf(taxonOf(a)))) {
            const isBelow = (other: string) =>
              other !== name && tree.lineage(taxonOf(other)).includes(taxonOf(name));
            const within = found.filter((one) => isBelow(one.name));
            const animals = animalsOf((other) => other === name);
            const below = animalsOf(isBelow) - within.reduce((sum, one) => sum + one.animals, 0);
            const count = rowsOf(isBelow) - within.length;
            if (count > 0 && animals > 0 && animals === below)
              found.push({ name, animals, isPlain: count >= 2 && animals >= 10 });
          }
          const inOrder = own.map(([, name]) => name);
          found.sort((a, b) => inOrder.indexOf(a.name) - inOrder.indexOf(b.name));
          if (found.some((one) => one.isPlain))
            told.set(sample, found.map(({ name, animals }) => `${name} ${animals}`).join(", "));
        }
        const findings = new FindingCollector();
        const finder = new SubtotalFinder(batch.table, batch.names);
        const { order, starts } = batch.table.bySample();
        const withPiles = new FindingCollector();
        for (const [number, id] of batch.table.samples.texts.entries()) {
          const own = order.subarray(starts[number], starts[number + 1]);
          finder.report(id, own, findings);
          const { table, names, compiled } = batch;
          const sources = { table, names, policy: compiled.policy, findings: new FindingCollector() };
          finder.report(id, own, withPiles, gatherPiles(number, sources));
        }
        expect(withPiles.all).toEqual(findings.all);
        const said = findings.all.map((one): [string, string] => [
          one.sampleId,
          one.message.split(":")[0] ?? "",
        ]);
        expect(new Map(said)).toEqual(told);
      }),
      { numRuns: 80 },
    );
  });
});
