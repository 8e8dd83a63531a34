import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { byDay, bySet, sitesOf, summaryOf } from "../../src/report/sites.ts";
import { reportRun, reportSample } from "./report-sample.ts";

describe("sitesOf", () => {
  it("gathers the samples of a site from all runs, newest first, days not known last", () => {
    const old = reportRun([
      reportSample({ sampleId: "a", collectedOn: "2022-05-01" }),
      reportSample({ sampleId: "b", collectedOn: "" }),
    ]);
    const fresh = reportRun([reportSample({ sampleId: "c", collectedOn: "2023-05-01" })], { name: "run-2" });
    const sites = sitesOf([old, fresh]);
    expect(
      sites.map(({ name, file, visits }) => [name, file, visits.map(({ sample }) => sample.sampleId)]),
    ).toEqual([["V1", "site-V1.html", ["c", "a", "b"]]]);
  });

  it("takes a sample scored twice with one set from the last run, and keeps it apart for another set", () => {
    const first = reportRun([reportSample({ index: 10 })]);
    const again = reportRun([reportSample({ index: 20 })]);
    const set = { ...first.set, version: "2.0.0", hash: "ef".repeat(32) };
    const other = reportRun([reportSample({ index: 30 })], { set });
    const [site] = sitesOf([first, other, again]);
    expect(site?.visits.map(({ run, sample }) => [run.set.version, sample.index])).toEqual([
      ["1.0.0", 20],
      ["2.0.0", 30],
    ]);
    expect(bySet(site?.visits ?? []).map((visits) => visits.length)).toEqual([1, 1]);
  });

  it("gives a sample without a site a page of its own", () => {
    const [site] = sitesOf([reportRun([reportSample({ siteId: "" })])]);
    expect([site?.name, site?.isSite, site?.file]).toEqual(["V1-2023", false, "sample-V1-2023.html"]);
  });

  it("makes names of pages that are safe on every system and never the same", () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.string({ unit: "binary", minLength: 1, maxLength: 12 }), { maxLength: 12 }),
        (ids) => {
          const samples = ids.map((siteId, at) => reportSample({ siteId, sampleId: String(at) }));
          const files = sitesOf([reportRun(samples)]).map(({ file }) => file);
          for (const file of files) expect(file).toMatch(/^site-[A-Za-z0-9_-]*\.html$/);
          expect(new Set(files.map((file) => file.toLowerCase())).size).toBe(ids.length);
        },
      ),
      { numRuns: 30 },
    );
    const ids = ["../../etc/passwd", "a b", "a/b", "A-B", "x".repeat(300)];
    const samples = ids.map((siteId, at) => reportSample({ siteId, sampleId: String(at) }));
    expect(sitesOf([reportRun(samples)]).map(({ file }) => file)).toEqual([
      "site-etc-passwd.html",
      "site-A-B.html",
      "site-a-b-2.html",
      "site-a-b-3.html",
      `site-${"x".repeat(55)}.html`,
    ]);
  });
});

describe("summaryOf", () => {
  it("is the mean of per-sample indices with range and number, without duplicates and missing ones", () => {
    expect(
      summaryOf([
        reportSample({ index: 60 }),
        reportSample({ index: 75 }),
        reportSample({ index: 66 }),
        reportSample({ index: 0, duplicateOf: "V1-2023" }),
        reportSample({ index: undefined }),
      ]),
    ).toEqual({ count: 3, mean: 67, least: 60, most: 75 });
    expect(summaryOf([reportSample({ index: undefined })])).toBe(undefined);
  });
});

describe("byDay", () => {
  it("puts samples of one day together in the order given", () => {
    const run = reportRun([]);
    const visit = (sampleId: string, collectedOn: string) => ({
      run,
      sample: reportSample({ sampleId, collectedOn }),
    });
    const days = byDay([visit("a", "2"), visit("b", "2"), visit("c", "1")]);
    expect(days.map(({ day, samples }) => [day, samples.map(({ sampleId }) => sampleId)])).toEqual([
      ["2", ["a", "b"]],
      ["1", ["c"]],
    ]);
  });
});
