import { beforeAll, describe, expect, it } from "vitest";
import { unwatched } from "../../src/model/watcher.ts";
import { reportRun } from "../../src/pipeline/report-samples.ts";
import type { ReportDetail, ReportRun, ReportSample } from "../../src/report/report-data.ts";
import { setFolder } from "../helpers/small-batch.ts";
import type { RunFiles } from "../helpers/stored-run.ts";
import { storedRun } from "../helpers/stored-run.ts";

const SHEET = `sample_id,taxon,count,life_stage,disposition
S-1,Baetis,10,larva,
S-1,Leuctra,10,larva,
S-2,Baetis,3,larva,
S-2,Zzyzx,1,larva,
S-3,Gammarus,30,,
S-3,Unionidae,2,,released
S-4,Leuctra,12,,
S-5,Simulium,5,,
S-6,Glossosoma,4,case,
S-7,Baetis,20,,
`;
const LOG = `sample_id,site_id,collected_on,waterbody,latitude,longitude,duplicate_of,replicate_of,fraction_sorted
S-1,A,2024-06-01,Alder Brook,-47.1681,-124.2731,,,0.5
S-2,B,2024-06-02,,-47.2,-124.3,,,
S-3,C,2024-06-03,,-47.3456,-124.4567,S-4,,
S-4,C,2024-06-03,,-47.3456,-124.4567,,S-3,
S-5,D,2024-06-04,,,,,,
S-6,E,2024-06-04,,,,,,
`;

const report = async (files: RunFiles, choices: Parameters<typeof storedRun>[1] = {}, exactPlaces = false) =>
  reportRun(await storedRun(files, choices), exactPlaces, "made up", unwatched);

function sampleOf(run: ReportRun, sampleId: string): ReportSample {
  const sample = run.samples.find((one) => one.sampleId === sampleId);
  if (sample === undefined) throw new Error(`no sample ${sampleId}`);
  return sample;
}
const detailOf = (run: ReportRun, sampleId: string): ReportDetail => run.detailOf(sampleOf(run, sampleId));

let run: ReportRun;
beforeAll(async () => {
  run = await report({ sheet: SHEET, log: LOG }, { target: 20 });
});

describe("a sample in the lists of a report", () => {
  it("has index, rating, the nearest other class, and what the log says of it", () => {
    // 10 Baetis of 5 and 10 Leuctra of 0: a mean of 2.5, which scores 7.5; two taxa score 2.
    expect(sampleOf(run, "S-1")).toMatchObject({
      siteId: "A",
      waterbody: "Alder Brook",
      status: "scored",
      index: 9.5,
      rating: "fair",
      next: { distance: 0.5, limit: 10, rating: "good" },
      scored: 20,
      duplicateOf: "",
      replicateOf: "",
      doubtCodes: [],
      whyNot: "",
      interval: undefined,
      place: { latitude: -47.1681, longitude: -124.2731, isBlurred: false },
    });
    expect(sampleOf(run, "S-1").classes.map(({ rating, span }) => `${rating} ${span}`)).toEqual([
      "poor below 6",
      "fair from 6 to below 10",
      "good from 10",
    ]);
  });

  it("says whose duplicate or replicate it is", () => {
    expect(sampleOf(run, "S-3")).toMatchObject({ duplicateOf: "S-4", replicateOf: "" });
    expect(sampleOf(run, "S-4")).toMatchObject({ duplicateOf: "", replicateOf: "S-3" });
  });

  it("says why it was refused, with the place, and has neither index nor next class", () => {
    expect(sampleOf(run, "S-2")).toMatchObject({
      status: "refused",
      index: undefined,
      rating: "",
      next: undefined,
      scored: undefined,
      doubtCodes: ["unknown-taxon"],
      whyNot: '"Zzyzx" is no known taxon (sheet.csv, line 5)',
    });
  });

  it("without a row in the log has no place, water or site, and carries the doubt", () => {
    expect(sampleOf(run, "S-7")).toMatchObject({
      siteId: "",
      waterbody: "",
      place: undefined,
      doubtCodes: ["not-in-log"],
      whyNot: "",
    });
  });

  it("has a blurred place where protected animals live, on every visit, unless exact places are asked for", async () => {
    const blurred = { latitude: -47.3, longitude: -124.5, isBlurred: true };
    expect([sampleOf(run, "S-3").place, sampleOf(run, "S-4").place]).toEqual([blurred, blurred]);
    const exact = await report({ sheet: SHEET, log: LOG }, {}, true);
    expect(sampleOf(exact, "S-4").place).toEqual({
      latitude: -47.3456,
      longitude: -124.4567,
      isBlurred: false,
    });
  });
});

describe("the details of a sample", () => {
  it("say in a sentence how it was brought to its count", () => {
    expect(["S-1", "S-2", "S-3", "S-4"].map((id) => detailOf(run, id).draw)).toEqual([
      "All of them were scored.",
      "",
      expect.stringMatching(/^Of these, 20 were drawn at random for the score \(target 20, seed 1, /),
      "That is less than the 20 asked for, so all of them were scored.",
    ]);
  });

  it("say that no animal is left where the sheet has nothing that counts, with a target or without", async () => {
    const empty = { counted: 0, draw: "None is left to score.", taxa: [] };
    expect(detailOf(run, "S-6")).toMatchObject(empty);
    const undrawn = await report({ sheet: "sample_id,taxon,count,life_stage\nS-6,Glossosoma,4,case\n" });
    expect(detailOf(undrawn, "S-6")).toMatchObject(empty);
  });

  it("give the taxa with their everyday groups, shares and tolerance values, where there are any", () => {
    expect(detailOf(run, "S-1")).toMatchObject({
      counted: 20,
      fractionSorted: 0.5,
      taxa: [
        { taxon: "Baetis", group: "small minnow mayflies", count: 10, share: 50, tolerance: 5 },
        { taxon: "Leuctra", group: "rolled-winged stoneflies", count: 10, share: 50, tolerance: 0 },
      ],
    });
    expect(detailOf(run, "S-5").taxa).toEqual([
      { taxon: "Simulium", group: "black flies", count: 5, share: 100, tolerance: undefined },
    ]);
    expect(detailOf(run, "S-5").fractionSorted).toBeUndefined();
  });

  it("give each metric with its score and thresholds, and a reason where it has no value", () => {
    const metrics = detailOf(run, "S-5").metrics;
    expect(metrics.map(({ id, value, whyMissing, score }) => [id, value, whyMissing, score])).toEqual([
      ["tolerance_index", undefined, "no animal has a tolerance value", undefined],
      ["taxa_richness", 1, "", 1],
    ]);
    expect(metrics[0]).toMatchObject({
      name: "Mean tolerance value",
      unit: "tolerance value",
      interval: undefined,
      thresholds: ["from 0 up to 10 scores 10 to 0"],
    });
    expect(metrics[0]?.scale?.at).toBeUndefined();
  });

  it("show a metric that counts as it is without thresholds or a score", async () => {
    const set = { thresholds: [["taxa_richness", "0", "10", "0", "10"]] } as const;
    const plain = await report({ sheet: "sample_id,taxon,count\nS-1,Baetis,10\n", set });
    expect(detailOf(plain, "S-1").metrics[0]).toMatchObject({
      value: 5,
      score: undefined,
      scale: undefined,
      thresholds: [],
    });
  });

  it("show a metric of the set under the set's own name with the catalogue's words", async () => {
    const set = {
      definition: { metrics: [{ id: "kinds", metric: "taxa_richness" }] },
      thresholds: [["kinds", "0", "10", "0", "10"]],
    } as const;
    const named = await report({ sheet: "sample_id,taxon,count\nS-1,Baetis,10\n", set });
    expect(detailOf(named, "S-1").metrics).toMatchObject([
      { id: "kinds", name: "Taxa richness", unit: "taxa" },
    ]);
  });

  it("list what was found about it, that of the files first", () => {
    expect(detailOf(run, "S-3").doubts).toEqual([
      {
        severity: "note",
        code: "released-animals",
        message: "2 Unionidae recorded and not counted: put back alive: recorded, not counted",
        place: "sheet.csv, line 7",
      },
    ]);
    expect(detailOf(run, "S-7").doubts.map(({ code, place }) => [code, place])).toEqual([
      ["not-in-log", "sheet.csv, line 11"],
    ]);
  });

  it("are refused for a sample of another report", async () => {
    const other = await report({ sheet: SHEET, log: LOG });
    expect(() => other.detailOf(sampleOf(run, "S-1"))).toThrow("sample S-1 is of another run");
  });
});

describe("a run with resamples", () => {
  it("keeps the intervals and what was found about them for the pages", async () => {
    const certain = await report(
      { sheet: SHEET, log: LOG },
      { resampling: { resamples: 100, supportLimit: 1 }, target: null },
    );
    const { interval } = sampleOf(certain, "S-1");
    expect(interval?.low).toBeLessThan(interval?.high ?? 0);
    expect(interval?.what).toBe("90 percent interval");
    const details = detailOf(certain, "S-1");
    const [tolerance] = details.metrics;
    expect(tolerance?.interval?.low).toBeLessThan(2.5);
    expect(tolerance?.interval?.high).toBeGreaterThan(2.5);
    expect(details.doubts.map(({ code }) => code)).toContain("clumping-not-covered");
    // A sample that was not scored has no certainty to keep.
    expect(detailOf(certain, "S-2")).toMatchObject({ metrics: [], draw: "" });
  });
});

describe("the set of a report", () => {
  it("says which way its index and its tolerance values go", async () => {
    expect(run.set).toMatchObject({
      higherIs: "better",
      tolerance: "higher-is-tolerant",
      calibratedFor: "Nothing.",
    });
    const reference = setFolder({
      metrics: [{ id: "taxa_richness" }],
      attributes: {},
      index: { method: "metric", metric: "taxa_richness", higher_is: "worse" },
      calibrated_for: "Streams of nowhere",
    });
    const other = await report({ sheet: "sample_id,taxon,count\nS-1,Baetis,10\n" }, { reference });
    expect(other.set).toMatchObject({
      higherIs: "worse",
      tolerance: "",
      calibratedFor: "Streams of nowhere.",
    });
  });
});
