import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  checkDuplicates,
  checkIdentification,
  checkSorting,
  chooseRechecks,
  explainSample,
  FileError,
  measureSamples,
  RequestError,
  rescoreSamples,
  scoreSamples,
  UnknownClassesError,
  UnknownSetError,
} from "../../src/index.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

const DEMO = join(REPOSITORY, "demo-data");
const sheet = {
  name: "s.csv",
  content:
    "sample_id,taxon,life_stage,count\nA,Drunella,larva,120\nA,Epeorus,larva,60\nB,Drunella,larva,150\n",
};
const asked = { sheets: [sheet], reference: "vennaloo-demo", stratum: "upland" };

/** What a call that is not typed gets. */
async function refusal(call: (request: never) => Promise<unknown>, request: unknown): Promise<string> {
  try {
    // A program in plain JavaScript has no compiler that would stop it.
    await call(request as never);
  } catch (error) {
    return error instanceof RequestError ? error.message : `no RequestError: ${String(error)}`;
  }
  return "nothing";
}

describe("a request", () => {
  it.each([
    [
      "a key that there is not",
      { ...asked, sample: "log.csv" },
      'scoreSamples: there is no key "sample"; did you mean "samples"?',
    ],
    [
      "no reference",
      { sheets: [sheet] },
      'scoreSamples: "reference" is missing; it is a text that is not empty',
    ],
    [
      "no sheets",
      { reference: "vennaloo-demo" },
      'scoreSamples: "sheets" is missing; it is a list of paths or of { name, content }',
    ],
    [
      "one sheet in place of a list",
      { ...asked, sheets: "s.csv" },
      'scoreSamples: "sheets" must be a list of paths or of { name, content }',
    ],
    [
      "a sheet without a name",
      { ...asked, sheets: [{ content: "" }] },
      'scoreSamples: "sheets" must be a list of paths or of { name, content }',
    ],
    [
      "a seed that is a number",
      { ...asked, seed: 7 },
      'scoreSamples: "seed" must be a text that is not empty',
    ],
    ["a target in words", { ...asked, target: "none" }, 'scoreSamples: "target" must be a number, or null'],
    ["nothing", undefined, "scoreSamples takes one object, for instance { sheets: ... }"],
    ["a list", [sheet], "scoreSamples takes one object, for instance { sheets: ... }"],
  ])("with %s is refused before anything is opened", async (_, request, message) => {
    expect(await refusal(scoreSamples, request)).toBe(message);
  });

  it("is checked the same way by every function", async () => {
    const calls = [
      scoreSamples,
      measureSamples,
      explainSample,
      rescoreSamples,
      checkSorting,
      checkIdentification,
      checkDuplicates,
      chooseRechecks,
    ];
    for (const call of calls) expect(await refusal(call, { colour: "red" })).toContain('no key "colour"');
    expect(await refusal(rescoreSamples, {})).toBe(
      'rescoreSamples: "runs" is missing; it is a list of texts',
    );
  });

  it("for a set, a class table or a file that is not there gives an error of its own class", async () => {
    await expect(scoreSamples({ ...asked, reference: "venaloo" })).rejects.toThrow(UnknownSetError);
    await expect(scoreSamples({ ...asked, classes: "none" })).rejects.toThrow(UnknownClassesError);
    await expect(scoreSamples({ ...asked, samples: "none.csv" })).rejects.toThrow(FileError);
    await expect(scoreSamples({ ...asked, seed: "007" })).rejects.toThrow(RangeError);
    for (const target of [0, 2.5, 4_194_305])
      await expect(scoreSamples({ ...asked, target })).rejects.toThrow(`not a target: ${target}`);
  });
});

describe("samples that are worked out one by one", () => {
  it("cannot be gone through twice and look empty", async () => {
    const batch = await scoreSamples(asked);
    expect([...batch.samples].map(({ score }) => score.sampleId)).toEqual(["A", "B"]);
    expect(() => [...batch.samples]).toThrow("samples can be gone through once; keep them with [...samples]");
    const measured = await measureSamples(asked);
    expect([...measured.samples]).toHaveLength(2);
    expect(() => [...measured.samples]).toThrow("once");
  });
});

describe("measureSamples", () => {
  it("gives the values that scoreSamples gives, and scores none", async () => {
    const { samples, isRefused, seed } = await measureSamples({
      ...asked,
      only: ["taxa_richness", "ept_richness"],
    });
    const [first] = samples;
    expect([isRefused, seed]).toEqual([false, "1"]);
    expect(first?.score.metrics.map(({ id }) => id)).toEqual(["taxa_richness", "ept_richness"]);
    expect(first?.score.index).toBe(undefined);
  });

  it("gives every method for ambiguous parents side by side", async () => {
    const { samples } = await measureSamples({ ...asked, parents: "all" });
    const all = [...samples];
    expect(new Set(all.map(({ parents }) => parents)).size).toBe(all.length / 2);
  });

  it("knows no other metric", async () => {
    expect(await refusal(measureSamples, { ...asked, only: ["ept_richnes"] })).toContain("ept_richness");
  });
});

describe("explainSample", () => {
  it("tells how the index of a sample came about, as scoreSamples gives it", async () => {
    const { story, findings } = await explainSample({ ...asked, sample: "A" });
    const [scored] = (await scoreSamples(asked)).samples;
    expect(findings).toEqual([]);
    expect(story?.score).toEqual(scored?.score);
    expect(story?.rows.map(({ written }) => written)).toEqual(["Drunella", "Epeorus"]);
  });

  it("points at the sample that is likely meant", async () => {
    const request = {
      ...asked,
      sheets: [{ name: "s.csv", content: "sample_id,taxon,count\nR2-24,Drunella,1\n" }],
    };
    expect(await refusal(explainSample, { ...request, sample: "R2-23" })).toBe(
      'explainSample: the sheets have no sample "R2-23"; did you mean "R2-24"?',
    );
  });

  it("has no story of a batch that is refused", async () => {
    const { story, findings } = await explainSample({
      ...asked,
      sheets: [{ name: "s.csv", content: "a,b\n" }],
      sample: "A",
    });
    expect(story).toBe(undefined);
    expect(findings.map(({ code }) => code)).toContain("missing-column");
  });
});

describe("quality control", () => {
  it("finds the sorting check of the demo that is under 90 percent", async () => {
    const checks = join(DEMO, "qc-sorting-check.csv");
    const run = await checkSorting({ checks, samples: join(DEMO, "sample-log.csv") });
    expect([run.outcome, run.findings.filter(({ code }) => code === "limit-missed").length]).toEqual([
      "fail",
      1,
    ]);
    expect((await checkSorting({ checks, limitPercent: 86 })).outcome).toBe("pass");
    await expect(checkSorting({ checks, limitPercent: 101 })).rejects.toThrow("from 0 to 100");
  });

  it("compares two identifications and precision of duplicates", async () => {
    const identification = await checkIdentification({
      primary: [join(DEMO, "bench-sheet.csv")],
      recheck: [join(DEMO, "qc-recheck-sheet.csv")],
      names: join(DEMO, "names.csv"),
      disagreementLimit: null,
      enumerationLimit: null,
    });
    expect(identification.outcome).toBe("pass");
    const duplicates = await checkDuplicates({
      scores: join(DEMO, "qc-scores.csv"),
      samples: join(DEMO, "qc-duplicates-log.csv"),
      limit: 0,
    });
    expect(duplicates.outcome).toBe("fail");
  });

  it("chooses the same samples as the command with the same seed", async () => {
    const samples = join(DEMO, "sample-log.csv");
    const [a, b] = [
      await chooseRechecks({ samples, sharePercent: 10, grouping: "sorter", seed: "7" }),
      await chooseRechecks({ samples, grouping: "sorter", seed: "7" }),
    ];
    expect(a.tables[0]?.rows).toEqual(b.tables[0]?.rows);
    expect(a.tables[0]?.rows.length).toBeGreaterThan(3);
    await expect(chooseRechecks({ samples, only: ["KMO"] })).rejects.toThrow('"only" names groups');
    await expect(chooseRechecks({ samples, round: 0 })).rejects.toThrow("whole number from 1");
    await expect(chooseRechecks({ samples, sharePercent: 0 })).rejects.toThrow("above 0");
  });
});

describe("a folder of sheets", () => {
  it("gives its bench sheets; logs and lists in it are left out with a note", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "season"));
    writeFileSync(join(cwd, "season/a.csv"), sheet.content);
    writeFileSync(join(cwd, "season/log.csv"), "sample_id,site_id,stratum\nA,S1,upland\n");
    writeFileSync(join(cwd, "season/names.csv"), "sheet_name,accepted_name\nx,Baetis\n");
    const batch = await scoreSamples({ ...asked, sheets: ["season"], cwd });
    expect(batch.findings.map(({ code, file }) => `${file} ${code}`)).toEqual([
      "season/log.csv left-out-file",
      "season/names.csv left-out-file",
    ]);
    expect(batch.inputs.map(({ file }) => file)).toEqual(["season/a.csv"]);
    expect([...batch.samples]).toHaveLength(2);
    const named = await scoreSamples({ ...asked, sheets: ["season/a.csv", "season/log.csv"], cwd });
    expect([named.isRefused, named.findings.map(({ code }) => code)]).toEqual([true, ["wrong-table"]]);
  });

  it("without a bench sheet is refused", async () => {
    const cwd = freshFolder();
    mkdirSync(join(cwd, "season"));
    writeFileSync(join(cwd, "season/log.csv"), "sample_id,site_id\nA,S1\n");
    const batch = await scoreSamples({ ...asked, sheets: ["season"], cwd });
    expect(batch.isRefused).toBe(true);
    expect(batch.findings.filter(({ severity }) => severity === "error").map(({ code }) => code)).toEqual([
      "wrong-table",
    ]);
  });
});
