import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runInside } from "../helpers/in-process.ts";
import { smallLab } from "../helpers/small-lab.ts";

const HEAD = "sample_id,taxon,count,life_stage\n";

/** Scores, checks or draws a sheet with a log; what is said of it, without the summary. */
async function told(command: readonly string[], sheet: string, log: string, names = "") {
  const lab = smallLab({ definition: { gear: "D-frame net, 500 µm" } });
  writeFileSync(join(lab, "s.csv"), HEAD + sheet);
  writeFileSync(join(lab, "l.csv"), log);
  writeFileSync(join(lab, "n.csv"), `sheet_name,accepted_name\nBaetis,Baetis\n${names}`);
  const [name = "", ...more] = command;
  const words = [name, "s.csv", "--samples", "l.csv", "--names", "n.csv", ...more];
  const result = await runInside(words, lab);
  const findings = result.stderr.split("\n").filter((line) => / (warning|note|error) /.test(line));
  return { status: result.status, findings, stdout: result.stdout };
}

const SET = ["--reference", "./small-set"];

describe("doubts of the trade", () => {
  it.each([
    ["score", ...SET],
    ["check", ...SET],
  ])("%s warns of other gear than the set's", async (...command) => {
    const log = "sample_id,gear,mesh_um\nA,Ponar grab,500\nB,kick net,250\nC,D-frame net,500\n";
    const { status, findings } = await told(command, "A,Leuctra,3,\nB,Leuctra,3,\nC,Leuctra,3,\n", log);
    expect(status).toBe(0);
    expect(findings).toEqual([
      expect.stringMatching(
        /^l\.csv:2:2 warning other-gear A was taken with "Ponar grab"; the gear of small-set is/,
      ),
      expect.stringMatching(/^l\.csv:3:2 warning other-gear B was taken with a mesh of 250 µm/),
    ]);
  });

  it.each([["score", ...SET], ["check"], ["subsample", "--target", "2"]])(
    "%s warns of a log that contradicts itself about the sorting",
    async (...command) => {
      const log = "sample_id,tray,grids_sorted,fraction_sorted\nA,5x6,36,\nB,5x6,6,0.5\nC,5x6,6,0.2\n";
      const { findings } = await told(command, "A,Leuctra,3,\nB,Leuctra,3,\nC,Leuctra,3,\n", log);
      const own = findings.filter((line) => /grids-beyond|share-differs/.test(line));
      expect(own).toEqual([
        expect.stringMatching(/^l\.csv:2:3 warning grids-beyond-tray /),
        expect.stringMatching(/^l\.csv:3:4 warning sorted-share-differs /),
      ]);
    },
  );

  it.each([["score", ...SET], ["check"], ["subsample", "--target", "5"]])(
    "%s warns of rows that seem to be subtotals",
    async (...command) => {
      const sheet = "A,Ephemeroptera,12,\nA,Epeorus,10,\nA,Drunella,2,\n";
      const { findings } = await told(command, sheet, "sample_id\nA\n");
      expect(findings.filter((line) => line.includes("possible-subtotal"))).toEqual([
        expect.stringMatching(/^s\.csv:2:2 warning possible-subtotal Ephemeroptera 12: /),
      ]);
    },
  );

  it("flags the sample of such a doubt, and no other", async () => {
    const sheet = "A,Ephemeroptera,12,\nA,Epeorus,10,\nA,Drunella,2,\nB,Leuctra,3,\n";
    const { stdout } = await told(["score", ...SET], sheet, "sample_id\nA\nB\n");
    const rows = stdout
      .trim()
      .split("\n")
      .map((line) => line.split(","));
    const at = (name: string) => rows[0]?.indexOf(name) ?? -1;
    expect(rows.slice(1).map((row) => [row[0], row[at("status")], row[at("flags")]])).toEqual([
      ["A", "flagged", "missing-metric;possible-subtotal;without-value"],
      ["B", "scored", ""],
    ]);
  });

  // Insects without a pupa, and animals without a larva or nymph: general zoology, from memory.
  it("notes stages that animals never have, once for each group", async () => {
    const sheet =
      "A,Epeorus,1,pupa\nA,Drunella,1,pupa\nA,Physa,2,larva\nB,Nais,1,pupa\nB,Hydropsyche,4,pupa\nB,Epeorus,4,nymph\nB,Lebertia,1,nymph\n";
    const { findings, status } = await told(["score", ...SET], sheet, "sample_id\nA\nB\n");
    expect(status).toBe(0);
    expect(
      findings.filter((line) => line.includes("odd-stage")).map((line) => line.replace(/ \(look.*/, "")),
    ).toEqual([
      's.csv:2:2 note odd-stage "Epeorus" and 1 more name stands as pupa, which Ephemeroptera never are (2 rows)',
      's.csv:4:2 note odd-stage "Physa" stands as larva, which Gastropoda never are; immature and juvenile are read as larva too',
      's.csv:5:2 note odd-stage "Nais" stands as pupa, which Annelida never are',
    ]);
  });

  it("notes a list of names that moves a taxon to another family, and not one that rolls it up", async () => {
    const names = "Epeorus,Caenis\nDrunella,Ephemerellidae\nBetis,Caenis\nLeuctra,Leuctra\n";
    const { findings } = await told(["score", ...SET], "A,Leuctra,3,\n", "sample_id\nA\n", names);
    expect(findings.map((line) => line.replace(/ \(nothing to do.*/, ""))).toEqual([
      'n.csv:3:2 note moved-name "Epeorus" (Heptageniidae) is taken as Caenis (Caenidae), a taxon of another family',
    ]);
  });

  it("keeps a row that stands twice word for word a note, and sums it", async () => {
    const { findings, status } = await told(
      ["score", ...SET],
      "A,Leuctra,3,\nA,Leuctra,3,\n",
      "sample_id\nA\n",
    );
    expect(status).toBe(0);
    expect(findings).toEqual([expect.stringMatching(/^s\.csv:3:2 note repeated-taxon /)]);
  });
});
