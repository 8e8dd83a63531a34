import { describe, expect, it } from "vitest";
import type { SetDefinitionInput } from "../../src/model/reference-set.ts";
import { loadSmall, saying } from "../helpers/small-batch.ts";

const head = "sample_id,taxon,count,life_stage\n";

describe("what is said of the names of a batch", () => {
  it("says a doubt once, at the first row, with its rows and samples", async () => {
    const { findings } = await loadSmall({
      sheet: `${head}A,Epeorus,1,\nA,Baetis,2,\nB,Baetis,3,\nB,Baetis,4,adult\n`,
    });
    expect(saying(findings, "ambiguous-name")).toEqual([
      expect.stringMatching(/^3 warning "Baetis" is ambiguous .* \(3 rows, 2 samples\)$/),
    ]);
  });

  it("counts rows and samples in any order, and points at the first in the files", async () => {
    const { findings } = await loadSmall({
      sheet: `${head}A,Epeorus,1,\nB,Baetis,2,\nC,Acarina,1,\nA,Baetis,3,\nB,Baetis,3,larva\nA,Acarina,1,\nC,Acarina,1,adult\n`,
    });
    expect(saying(findings, "ambiguous-name")).toEqual([
      expect.stringMatching(/^3 warning "Baetis" is ambiguous .* \(3 rows, 2 samples\)$/),
    ]);
    expect(saying(findings, "renamed-taxon")).toEqual([
      expect.stringMatching(/^4 note "Acarina" is taken as .* \(3 rows, 2 samples\)$/),
    ]);
    const told = findings.filter(({ code }) => code === "ambiguous-name" || code === "renamed-taxon");
    expect(told.map(({ line, sampleId }) => [line, sampleId])).toEqual([
      [3, ""],
      [4, ""],
    ]);
  });

  it("names the sample where only one has the name", async () => {
    const { findings } = await loadSmall({ sheet: `${head}A,Drunella cf. lata,2,\nB,Epeorus,3,\n` });
    expect(findings.filter((one) => one.code === "uncertain-name")).toEqual([
      expect.objectContaining({ line: 2, column: 2, severity: "warning", sampleId: "A" }),
    ]);
  });

  it("notes groups that are taxa of their own, and older names", async () => {
    const { findings } = await loadSmall({ sheet: `${head}A,Cricotopus/Orthocladius,2,\nA,Acarina,3,\n` });
    expect(saying(findings, "operational-taxon")).toEqual([
      '2 note "Cricotopus/Orthocladius" is a taxon of its own under Orthocladiinae',
    ]);
    expect(saying(findings, "renamed-taxon")).toEqual([
      expect.stringMatching(/^3 note "Acarina" is taken as /),
    ]);
  });

  it("warns of a stage in the name that the column contradicts, once for each pair", async () => {
    const { findings } = await loadSmall({
      sheet: `${head}A,Optioservus (L),2,adult\nB,Optioservus (L),1,adult\nB,Optioservus (L),4,larva\n`,
    });
    expect(saying(findings, "stage-mismatch")).toEqual([
      '2 warning "Optioservus (L)" says larva, the life_stage column says adult (2 rows, 2 samples)',
    ]);
  });

  it("says nothing of a name that the lab has decided", async () => {
    const { findings } = await loadSmall({
      sheet: `${head}A,Baetis,2,\n`,
      names: "sheet_name,accepted_name\nBaetis,Baetis\n",
    });
    expect(findings).toEqual([]);
  });
});

describe("records coarser than the level", () => {
  const set: Partial<SetDefinitionInput> = {
    level: { rank: "genus", exceptions: [{ taxon: "Chironomidae", rank: "family" }] },
  };

  it("get one note for the batch", async () => {
    const sheet = `${head}A,Epeorus,1,\nA,Heptageniidae,2,\nA,Chironomidae,9,\nB,Perlidae,3,\nB,Heptageniidae,4,\n`;
    const { findings } = await loadSmall({ sheet, set });
    expect(saying(findings, "coarse-records")).toEqual([
      "3 note 9 animals of 2 taxa in 2 samples are coarser than genus: Heptageniidae, Perlidae",
    ]);
  });

  it("leave out animals that do not count, and are silent without any", async () => {
    const sheet = `${head}A,Epeorus,1,\nA,Heptageniidae,2,adult\nA,Actinopterygii,1,\n`;
    const { findings } = await loadSmall({ sheet, set });
    expect(saying(findings, "coarse-records")).toEqual([]);
  });
});
