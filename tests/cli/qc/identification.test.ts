import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runJartally } from "../../helpers/run-jartally.ts";
import { folderWith, runQc } from "./csv-rows.ts";

// S1: Drunella 80 agree, Heptageniidae 12 are Epeorus (coarser), Antocha 8 are Hexatoma: PTD 20, 8 without.
// S2: the same animals, 95 and 105 counted: PDE 5, PTD 9.52.
const PRIMARY = `sample_id,taxon,count,identified_by,identified_on,life_stage
S1,Drunella,80,ann,2024-05-01,
S1,Heptageniidae,12,ann,2024-05-01,
S1,Antocha,8,ann,2024-05-01,
S1,Glossosoma,9,ann,2024-05-01,case
S2,Drunella,95,ben,2024-05-03,
S3,Drunella,10,ben,2024-05-04,
`;
const RECHECK = `sample_id,taxon,count,identified_by
S1,Drunella,80,cle
S1,Epeorus,12,cle
S1,Hexatoma,8,cle
S2,drunella sp.,105,cle
`;
const FILES = { "p.csv": PRIMARY, "r.csv": RECHECK };

describe("qc identification", () => {
  it("compares the samples that are on both sheets", () => {
    const { status, rows, stderr } = runQc(FILES, ["identification", "p.csv", "r.csv"]);
    expect(status).toBe(1);
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatchObject({
      sample_id: "S1",
      taxonomist: "ann",
      rechecked_by: "cle",
      date: "2024-05-01",
      animals_primary: "100",
      animals_recheck: "100",
      agreements: "80",
      pde: "0",
      ptd: "20",
      ptd_without_hierarchical: "8",
      ptd_outcome: "fail",
      pta: "80",
      ptc_primary: "88",
      ptc_recheck: "100",
      ptc_difference: "12",
      bray_curtis_similarity: "80",
      percent_similarity: "80",
      families_gained: "0",
      outcome: "fail",
    });
    expect(rows[1]).toMatchObject({ sample_id: "S2", pde: "5", pde_outcome: "pass", outcome: "pass" });
    expect(stderr).toContain(
      "r.csv:2:1 warning limit-missed PTD of S1 is 20 percent, 5 over the limit of 15",
    );
    expect(stderr).toContain("2 samples compared: 1 within the limits, 1 not");
    expect(stderr).not.toContain("S3");
  });

  it("lists every disagreement, the heaviest first", () => {
    const { rows } = runQc(FILES, ["identification", "p.csv", "r.csv", "--table", "disagreements"]);
    expect(
      rows.map((row) => [
        row.sample_id,
        row.kind,
        row.primary_name,
        row.recheck_name,
        row.animals,
        row.ptd_points,
        row.coarser_sheet,
      ]),
    ).toEqual([
      ["S1", "coarser", "Heptageniidae", "Epeorus", "12", "12", "primary"],
      ["S2", "number", "Drunella", "Drunella", "10", "9.52380952381", ""],
      ["S1", "different-name", "Antocha", "Hexatoma", "8", "8", ""],
    ]);
  });

  it("sums up taxonomists and disputed names", () => {
    const people = runQc(FILES, ["identification", "p.csv", "r.csv", "--table", "taxonomists"]).rows;
    expect(people.map((row) => [row.taxonomist, row.samples, row.samples_failed, row.ptd_mean])).toEqual([
      ["ann", "1", "1", "20"],
      ["ben", "1", "0", "9.52380952381"],
      ["(all)", "2", "1", "14.7619047619"],
    ]);
    const taxa = runQc(FILES, ["identification", "p.csv", "r.csv", "--table", "taxa"]).rows;
    expect(taxa.map((row) => [row.taxon, row.disputed, row.most_often_instead])).toEqual([
      ["Epeorus", "12", "Heptageniidae"],
      ["Heptageniidae", "12", "Epeorus"],
      ["Drunella", "10", ""],
      ["Antocha", "8", "Hexatoma"],
      ["Hexatoma", "8", "Antocha"],
    ]);
  });

  it("holds the other figure against the limit with --hierarchical ignore, and takes other limits", () => {
    const words = ["identification", "p.csv", "r.csv"];
    expect(runQc(FILES, [...words, "--hierarchical", "ignore"]).status).toBe(0);
    expect(runQc(FILES, [...words, "--ptd-limit", "20"]).status).toBe(0);
    expect(runQc(FILES, [...words, "--ptd-limit", "none"]).status).toBe(0);
    const strict = runQc(FILES, [...words, "--ptd-limit", "20", "--pde-limit", "4.99"]);
    expect(strict.status).toBe(1);
    expect(strict.stderr).toContain("PDE of S2 is 5 percent, 0.01 over the limit of 4.99");
    const mean = runQc(FILES, [...words, "--ptd-limit", "20", "--pde", "mean"]);
    expect([mean.status, mean.rows[1]?.pde]).toEqual([1, "10"]);
    const ptc = runQc(FILES, [...words, "--ptd-limit", "20", "--ptc-limit", "5"]);
    expect(ptc.stderr).toContain("PTC difference of S1 is 12 percent, 7 over the limit of 5");
  });

  it("takes the level from --level or from the set", () => {
    const words = ["identification", "p.csv", "r.csv", "--ptd-limit", "none"];
    expect(runQc(FILES, [...words, "--level", "family"]).rows[0]?.ptc_primary).toBe("100");
    expect(runQc(FILES, [...words, "--level", "species"]).rows[0]?.ptc_primary).toBe("0");
    const family = runQc(FILES, [...words, "--reference", "hilsenhoff-family-1988"]);
    expect(family.rows[0]?.ptc_primary).toBe("100");
  });

  it("takes the taxonomist from the log when there is one", () => {
    const files = { ...FILES, "log.csv": "sample_id,taxonomist\nS1,zoe\nS2,zoe\nS3,zoe\n" };
    const { rows } = runQc(files, ["identification", "p.csv", "r.csv", "--log", "log.csv"]);
    expect(rows.map((row) => row.taxonomist)).toEqual(["zoe", "zoe"]);
  });

  it("takes a limit for families gained, on the mean of the samples", () => {
    const files = {
      "p.csv": "sample_id,taxon,count\nA,Drunella,98\nB,Drunella,98\n",
      "r.csv": "sample_id,taxon,count\nA,Drunella,95\nA,Epeorus,1\nA,Antocha,1\nA,Zapada,1\nB,Drunella,98\n",
    };
    const words = ["identification", "p.csv", "r.csv", "--gains-limit"];
    expect(runQc(files, [...words, "2"]).status).toBe(0);
    const strict = runQc(files, [...words, "1"]);
    expect(strict.status).toBe(1);
    expect(strict.stderr).toContain(
      "mean number of families gained per sample is 1.5, 0.5 over the limit of 1",
    );
  });

  it("refuses a sample with an unknown name or a faulty row, compares the others and ends with 3", () => {
    const files = {
      "p.csv": PRIMARY,
      "r.csv": `${RECHECK.replace("Hexatoma", "Hexatomma")}S3,Drunella,x,cle\n`,
    };
    const { status, rows, stderr } = runQc(files, ["identification", "p.csv", "r.csv"]);
    expect(status).toBe(3);
    expect(rows.map((row) => [row.sample_id, row.outcome, row.refused_because])).toEqual([
      ["S2", "pass", ""],
      ["S1", "refused", "unknown-taxon"],
      ["S3", "refused", "bad-count"],
    ]);
    expect(stderr).toContain("r.csv:4:2 error unknown-taxon");
  });

  it("says which re-checked samples the first sheet lacks, and refuses sheets with nothing in common", () => {
    const some = runQc({ "p.csv": PRIMARY, "r.csv": `${RECHECK}S9,Drunella,1,cle\n` }, [
      "identification",
      "p.csv",
      "r.csv",
    ]);
    expect(some.stderr).toContain("r.csv:6:1 warning no-counterpart sample S9 is not on the first sheet");
    const none = runQc({ "p.csv": PRIMARY, "r.csv": "sample_id,taxon,count\nX,Drunella,1\n" }, [
      "identification",
      "p.csv",
      "r.csv",
    ]);
    expect(none.status).toBe(3);
    expect(none.stderr).toContain("error no-counterpart no sample stands on both sheets");
  });

  it("points at the whole file where a sample has no row that could be read", () => {
    const refused = runQc({ "p.csv": PRIMARY, "r.csv": `${RECHECK}S9,Drunella,many,cle\n` }, [
      "identification",
      "p.csv",
      "r.csv",
    ]);
    expect(refused.stderr).toContain("r.csv:0:0 warning no-counterpart sample S9 is not on the first sheet");
    expect(refused.rows.map((row) => row.sample_id)).toEqual(["S1", "S2"]);
    const blank = runQc({ "p.csv": PRIMARY, "r.csv": "taxon,S2,S3\nDrunella,95,\n" }, [
      "identification",
      "p.csv",
      "r.csv",
    ]);
    expect(blank.stderr).toContain("r.csv:0:0 warning limit-missed PDE of S3 is 100 percent");
    expect(blank.rows.map((row) => row.sample_id)).toEqual(["S2", "S3"]);
  });

  it("agrees with itself wholly", () => {
    const { status, rows } = runQc(FILES, ["identification", "p.csv", "p.csv"]);
    expect(status).toBe(0);
    expect(rows.map((row) => [row.ptd, row.pde, row.bray_curtis_similarity, row.disagreements])).toEqual([
      ["0", "0", "100", "0"],
      ["0", "0", "100", "0"],
      ["0", "0", "100", "0"],
    ]);
  });

  it("knows slash groups and provisional names of both sheets in one tree", () => {
    const files = {
      "p.csv": "sample_id,taxon,count\nA,Epeorus/Rhithrogena,10\nA,Drunella sp. A,5\n",
      "r.csv": "sample_id,taxon,count\nA,Epeorus,10\nA,Drunella sp. B,5\n",
    };
    const { rows } = runQc(files, ["identification", "p.csv", "r.csv", "--table", "disagreements"]);
    expect(rows.map((row) => [row.kind, row.primary_name, row.recheck_name, row.animals])).toEqual([
      ["coarser", "Epeorus/Rhithrogena", "Epeorus", "10"],
      ["different-name", "Drunella sp. A", "Drunella sp. B", "5"],
    ]);
  });

  it("leaves a report with charts of disagreement and enumeration for each taxonomist", () => {
    const folder = folderWith(FILES);
    runJartally(["qc", "identification", "p.csv", "r.csv", "--report", "r"], { cwd: folder });
    const page = readFileSync(join(folder, "r/index.html"), "utf8");
    // Four charts, each for broad and for narrow pages.
    expect(page.match(/<svg role="img"/g)).toHaveLength(8);
    expect(page).toContain(
      "Taxonomic disagreement (PTD) of ann: 1 sample over time, limit at most 15 percent, 1 missed it: S1 (20).",
    );
    expect(page).toContain("Stribling, Moulton and Lester 2003");
  });

  it.each([
    [["identification", "p.csv"], /missing required argument 'recheck'/],
    [
      ["identification", "p.csv", "r.csv", "--level", "kind"],
      /--level: "kind" is not a rank: one of kingdom/,
    ],
    [["identification", "p.csv", "r.csv", "--ptd-limit", "x"], /--ptd-limit: "x" is not a limit/],
    [["identification", "-", "-"], /standard input/],
    [["identification", "p.csv", "r.csv", "--reference", "nowhere"], /there is no reference set "nowhere"/],
  ])("refuses %j as wrong usage", (words, message) => {
    const { status, stderr } = runQc(FILES, words);
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
  });
});
