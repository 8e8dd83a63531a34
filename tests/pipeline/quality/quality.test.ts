import { describe, expect, it } from "vitest";
import type { Finding } from "../../../src/findings/finding.ts";
import {
  checkDuplicates,
  checkIdentification,
  checkSorting,
  chooseRechecks,
} from "../../../src/pipeline/library/quality.ts";
import type { QualityRun } from "../../../src/pipeline/quality/quality-run.ts";

const file = (name: string, content: string) => ({ name, content });

/** Rows of a table as objects by column. */
function rowsOf(run: QualityRun, id: string): Readonly<Record<string, unknown>>[] {
  const table = run.tables.find((one) => one.id === id);
  if (table === undefined) throw new Error(`no table ${id}`);
  return table.rows.map((row) => Object.fromEntries(table.columns.map(({ name }, at) => [name, row[at]])));
}
const told = (findings: readonly Finding[], code: string) =>
  findings.filter((one) => one.code === code).map(({ line, message }) => `${line} ${message}`);

describe("duplicates", () => {
  const scores = file(
    "s.csv",
    "sample_id,status,index,rating,ept_richness\nA,scored,40,fair,0\nA-D,scored,50,good,0\nB,scored,60,good,\nB-D,scored,60,good,4\nC,refused,,,\n",
  );
  const log = (rows: string) => file("log.csv", `sample_id,duplicate_of,replicate_of\n${rows}`);

  it("have no precision of a measure of which no group has two values above nothing known", async () => {
    const run = await checkDuplicates({ scores, samples: log("B-D,B,\n") });
    const [index, richness] = rowsOf(run, "precision");
    // 60 and 60: no difference, so a standard deviation of 0.
    expect(index).toMatchObject({
      groups: 1,
      samples: 2,
      degrees_of_freedom: 1,
      mean: 60,
      within_site_sd: 0,
    });
    expect(richness).toMatchObject({
      measure: "ept_richness",
      groups: 0,
      samples: 0,
      degrees_of_freedom: 0,
      mean: null,
      within_site_sd: null,
      cv_percent: null,
      interval90_1: null,
      between_3: null,
      groups_over_limit: null,
    });
    expect(rowsOf(run, "pairs").at(-1)).toMatchObject({
      without_value: "B",
      why_not: "too-few-values",
      rpd_percent: null,
    });
    expect(rowsOf(run, "ratings")).toEqual([
      { primary: "B", samples: "B;B-D", ratings: "good;good", outcome: "same" },
    ]);
  });

  it("are judged without a limit as well: figures, and no word on it", async () => {
    const run = await checkDuplicates({ scores, samples: log("A-D,A,\n"), limit: null });
    // |40 - 50| / 45 = 22.2 percent, over the usual limit of 15, which is not asked for.
    expect(rowsOf(run, "pairs")[0]).toMatchObject({ rpd_percent: expect.closeTo(22.2222, 4), over_by: null });
    expect(told(run.findings, "limit-missed")).toEqual([]);
    expect(run.summary).toBe(
      "1 group of duplicates; within-site SD of the index 7.07; rating differs in 1 of 1 pair (100 percent)",
    );
    expect(run.rules[0]).toContain("; no limit.");
  });

  it("are held against the limit in every metric when asked to, and two zeros have no figure", async () => {
    const run = await checkDuplicates({ scores, samples: log("A-D,A,\n"), limitsMetrics: true });
    expect(told(run.findings, "limit-missed")).toEqual([
      "3 RPD of index of A, A-D is 22.22 percent, 7.22 over the limit of 15",
    ]);
    expect(run.findings.map(({ message }) => message)).toContainEqual(
      expect.stringContaining("the values of A, A-D are all zero"),
    );
    expect(run.rules[0]).toContain("for the index and every metric, which passes itself");
    expect(run.outcome).toBe("fail");
  });

  it("are taken from one column of the log or from both, and a word says which", async () => {
    const samples = log("A-D,A,\nB-D,,B\n");
    const groups = async (links: "duplicate_of" | "replicate_of" | "both") => {
      const run = await checkDuplicates({ scores, samples, links });
      return [rowsOf(run, "ratings").map(({ primary }) => primary), run.rules.at(-1)];
    };
    expect(await groups("duplicate_of")).toEqual([
      ["A"],
      "Groups: the column duplicate_of of the sample log.",
    ]);
    expect(await groups("replicate_of")).toEqual([
      ["B"],
      "Groups: the column replicate_of of the sample log.",
    ]);
    expect(await groups("both")).toEqual([
      ["A", "B"],
      "Groups: the columns duplicate_of and replicate_of of the sample log.",
    ]);
  });

  it("that name themselves or each other are said at their rows", async () => {
    const run = await checkDuplicates({ scores, samples: log("A,A,\nB,B-D,\nB-D,B,\n") });
    expect(told(run.findings, "circular-duplicates")).toEqual([
      "2 sample A is called a duplicate of itself",
      "3 samples B and B-D repeat each other in a circle",
      "4 samples B-D and B repeat each other in a circle",
    ]);
  });

  it("of which one was not scored are said, for the sample repeated and for the one that repeats it", async () => {
    const run = await checkDuplicates({ scores, samples: log("A-D,A,\nB,Z,\nX,B-D,\n") });
    expect(told(run.findings, "no-duplicate")).toEqual([
      "3 sample Z, which B repeats, is not among the scores",
      "4 sample X, which repeats B-D, is not among the scores",
    ]);
    const ratings = rowsOf(run, "ratings").map(({ samples, outcome }) => [samples, outcome]);
    expect(ratings).toContainEqual(["Z;B", "not-computable"]);
  });

  it("without any rating have nothing to differ in", async () => {
    const plain = file("s.csv", "sample_id,status,index\nA,scored,40\nA-D,scored,40\n");
    const run = await checkDuplicates({ scores: plain, samples: log("A-D,A,\n") });
    expect(run.tables.find(({ id }) => id === "ratings")?.explains).toBe("The scores have no ratings.");
    const half = file("s.csv", "sample_id,status,index,rating\nA,scored,40,fair\nA-D,scored,40,\n");
    const one = await checkDuplicates({ scores: half, samples: log("A-D,A,\n") });
    expect(one.tables.find(({ id }) => id === "ratings")?.explains).toBe("No pair has two ratings.");
    expect(one.summary).toBe(
      "1 group of duplicates; within-site SD of the index 0; 0 over the RPD limit of 15 percent",
    );
  });

  it("of a table that cannot be read are refused", async () => {
    const run = await checkDuplicates({ scores: file("s.csv", "nothing\n1\n"), samples: log("A-D,A,\n") });
    expect([run.outcome, run.summary, run.tables]).toEqual([
      "not-computable",
      "nothing could be compared",
      [],
    ]);
  });
});

describe("samples to re-check", () => {
  const samples = file(
    "log.csv",
    "sample_id,site_id,lot,sorter,taxonomist,trainee\nA,1,L1,Ann,Tia,\nB,2,L1,Ann,Tia,\nC,3,L1,Ben,Tia,yes\nD,,,,,\n",
  );

  it("come from the whole log where no group is named, with what the log says of them", async () => {
    const run = await chooseRechecks({ samples, sharePercent: 100 });
    expect(rowsOf(run, "groups")).toEqual([
      {
        chosen_by: "log",
        group: "",
        samples: 4,
        trainee_samples: 1,
        asked: expect.any(Number),
        chosen: 4,
        exhausted: "no",
      },
    ]);
    expect(rowsOf(run, "chosen").find(({ sample_id }) => sample_id === "D")).toMatchObject({
      site_id: "",
      lot: "",
      sorter: "",
      taxonomist: "",
      chosen_by: "log",
      reason: "share",
    });
    expect(rowsOf(run, "chosen").find(({ sample_id }) => sample_id === "C")?.reason).toBe("trainee");
    expect(run.summary).toMatch(
      /^4 samples of 4 chosen: 100% of each log, at least one, and 1 of trainees; round 1, seed /,
    );
  });

  it("come from each group, one without a name included, and its samples are told", async () => {
    const run = await chooseRechecks({ samples, grouping: "sorter", sharePercent: 50 });
    expect(
      rowsOf(run, "groups").map(({ chosen_by, group, samples: size }) => [chosen_by, group, size]),
    ).toEqual([
      ["sorter", "Ann", 2],
      ["sorter", "Ben", 1],
      ["sorter", "", 1],
    ]);
    expect(told(run.findings, "no-check-group")).toEqual([
      "5 D has no sorter; it is chosen among the samples without one",
    ]);
  });

  it("are fewer than asked for where all others were checked before", async () => {
    const checked = file("checked.csv", "sample_id\nA\nB\n");
    const run = await chooseRechecks({ samples, checked, grouping: "sorter", sharePercent: 100 });
    expect(told(run.findings, "share-exhausted")).toContain(
      "0 sorter Ann: 2 asked for, 0 left that were not chosen or checked before",
    );
    expect(rowsOf(run, "groups")[0]).toMatchObject({ group: "Ann", chosen: 0, exhausted: "yes" });
    const all = await chooseRechecks({ samples, checked, sharePercent: 100 });
    expect(told(all.findings, "share-exhausted")[0]).toMatch(/^0 the log: /);
  });

  it("are refused for a group that the log does not have", async () => {
    const run = await chooseRechecks({ samples, grouping: "sorter", only: ["Zed"] });
    expect(run.tables).toEqual([]);
    expect(told(run.findings, "no-check-group")).toEqual(['0 no sample of the log has the sorter "Zed"']);
    await expect(chooseRechecks({ samples, only: ["Ann"] })).rejects.toThrow('"only" names groups');
    await expect(chooseRechecks({ samples, seed: "-1" })).rejects.toThrow("not a seed: -1");
  });

  it("are refused where a file cannot be read as what it is", async () => {
    const broken = file("checked.csv", "nothing\n1\n");
    expect((await chooseRechecks({ samples, checked: broken })).outcome).toBe("not-computable");
    expect((await chooseRechecks({ samples: broken })).summary).toBe("nothing could be compared");
  });
});

describe("sorting checks", () => {
  const samples = file(
    "log.csv",
    "sample_id,sorter,lot,sorted_on,received_on\nA,Ann,L1,2024-06-03T10:00,\nB,Ben,,,2024-06-04\nC,,,,\n",
  );

  it("take sorter, lot and day from the log where the sheet does not say them", async () => {
    const checks = file(
      "c.csv",
      "sample_id,sorted_count,recovered_count,fraction_checked,sorter\nA,95,5,,\nB,80,20,,Cat\nC,90,5,0.5,\nZ,9,1,,\n",
    );
    const run = await checkSorting({ checks, samples });
    expect(
      rowsOf(run, "samples").map(({ sample_id, sorter, lot, date, date_is, outcome }) => [
        sample_id,
        sorter,
        lot,
        date,
        date_is,
        outcome,
      ]),
    ).toEqual([
      ["A", "Ann", "L1", "2024-06-03", "sorted_on", "pass"],
      ["B", "Cat", "", "2024-06-04", "received_on", "fail"],
      ["C", "", "", "", "", "pass"],
      ["Z", "", "", "", "", "pass"],
    ]);
    expect(told(run.findings, "not-in-log")).toEqual([
      "5 sample Z was checked but has no row in the sample log",
    ]);
    expect(told(run.findings, "limit-missed")).toEqual([
      "3 sorting efficiency of B is 80 percent, 10 under the limit of 90",
    ]);
    // 5 in half of the residue stand for 10: 90 / 100 is 90 percent, which passes.
    expect(told(run.findings, "partly-checked")).toEqual([
      "4 5 animals found in 50 percent of the residue of C stand for 10",
    ]);
    expect(run.summary).toBe("4 checks: 3 passed, 1 failed, mean efficiency 88.75 percent");
  });

  it("without an animal have no efficiency, and a second check of a sample is said", async () => {
    const checks = file("c.csv", "sample_id,sorted_count,recovered_count\nA,0,0\nA,10,0\nB,x,1\n");
    const run = await checkSorting({ checks });
    expect(told(run.findings, "not-computable")).toEqual([
      "2 sorting efficiency of A: nothing was sorted and nothing recovered",
    ]);
    expect(told(run.findings, "checked-twice")).toEqual(["3 sample A was also checked in line 2"]);
    expect(run.summary).toBe(
      "2 checks: 1 passed, 0 failed, 1 not computable, mean efficiency 100 percent, 1 refused",
    );
  });
});

describe("identifications compared", () => {
  const HEAD = "sample_id,taxon,count,identified_by,identified_on\n";
  const primary = [
    file("a.csv", `${HEAD}A,Baetis,10,Ann,2024-07-01\nB,Simulium,5,,\nC,Zzyzx,5,,\nE,Glossosoma,0,,\n`),
  ];
  const recheck = [
    file(
      "b.csv",
      `${HEAD}B,Simulium,4,,\nA,Baetis,8,Bea,\nA,Drunella,2,Bea,\nC,Baetis,5,,\nD,Baetis,1,,\nE,Glossosoma,0,,\n`,
    ),
  ];

  it("say of every sample who read it, on which day, and what was found", async () => {
    const samples = file("log.csv", "sample_id,collected_on,taxonomist\nB,2024-05-05T08:00,Cleo\n");
    const run = await checkIdentification({ primary, recheck, samples });
    expect(
      rowsOf(run, "samples").map(
        ({ sample_id, taxonomist, rechecked_by, date, outcome, refused_because }) => [
          sample_id,
          taxonomist,
          rechecked_by,
          date,
          outcome,
          refused_because,
        ],
      ),
    ).toEqual([
      ["A", "Ann", "Bea", "2024-07-01", "fail", ""],
      ["B", "Cleo", "", "2024-05-05", "fail", ""],
      ["E", "", "", "", "not-computable", ""],
      ["C", expect.anything(), expect.anything(), expect.anything(), expect.anything(), "unknown-taxon"],
    ]);
    expect(rowsOf(run, "disagreements")).toContainEqual(
      expect.objectContaining({
        sample_id: "A",
        taxonomist: "Ann",
        kind: "different-name",
        primary_name: "Baetis",
        recheck_name: "Drunella",
        animals: 2,
      }),
    );
    expect(run.summary).toMatch(/^3 samples compared: .*, 1 refused; mean PTD /);
  });

  it("point at the rows of the second sheet", async () => {
    const run = await checkIdentification({ primary, recheck });
    // PTD of A: 100 x (1 - 8 / 10) = 20; of B: 100 x (1 - 4 / 5) = 20. PDE of B: 100 x 1 / 9.
    expect(told(run.findings, "limit-missed")).toEqual([
      "3 PTD of A is 20 percent, 5 over the limit of 15",
      "2 PDE of B is 11.11 percent, 6.11 over the limit of 5",
      "2 PTD of B is 20 percent, 5 over the limit of 15",
    ]);
    expect(told(run.findings, "no-counterpart")).toEqual(["6 sample D is not on the first sheet"]);
    expect(told(run.findings, "not-computable")).toEqual([
      "7 figures of E: neither sheet has an animal that counts",
    ]);
  });

  it("have figures and no judgement where no limit is set", async () => {
    const run = await checkIdentification({
      primary,
      recheck,
      enumerationLimit: null,
      disagreementLimit: null,
    });
    expect(told(run.findings, "limit-missed")).toEqual([]);
    expect(rowsOf(run, "samples")[0]).toMatchObject({ ptd_outcome: "", pde_outcome: "" });
    expect(run.rules[0]).toMatch(/; no limit\.$/);
  });

  it("are held to the level of a set, with its exceptions, or to that of the user", async () => {
    const levelOf = async (more: { reference?: string; rank?: "family" | "as-named" }) =>
      (await checkIdentification({ primary, recheck, ...(more as object) })).rules[2];
    expect(await levelOf({})).toContain("; target level genus;");
    expect(await levelOf({ rank: "family" })).toContain("; target level family;");
    expect(await levelOf({ reference: "vennaloo-demo" })).toMatch(
      /; target level \w+, with the set's exceptions;/,
    );
  });

  it("with nothing in common are refused with a word", async () => {
    const run = await checkIdentification({ primary, recheck: [file("b.csv", `${HEAD}Q,Baetis,1,,\n`)] });
    expect(told(run.findings, "no-counterpart")).toContain(
      "0 no sample stands on both sheets, so there is nothing to compare",
    );
  });
});
