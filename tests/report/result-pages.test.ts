import { describe, expect, it } from "vitest";
import { batchPage } from "../../src/report/batch-page.ts";
import type { ReportRun } from "../../src/report/report-data.ts";
import { sitePage } from "../../src/report/site-page.ts";
import { sitesOf } from "../../src/report/sites.ts";
import { wordsOf } from "./page-words.ts";
import type { WholeSample } from "./report-sample.ts";
import { reportRun, reportSample } from "./report-sample.ts";

const batch = (...runs: ReportRun[]) => batchPage(runs, sitesOf(runs), "Results");
const site = (...samples: WholeSample[]) => {
  const [first] = sitesOf([reportRun(samples)]);
  if (first === undefined) throw new Error("no site");
  return sitePage(first);
};
describe("every page", () => {
  const hostile = reportSample({
    sampleId: `<script>alert("1")</script>`,
    siteId: `"><img src=x onerror=alert(1)>`,
    waterbody: "<b>Brook</b>",
    rating: "<i>good</i>",
    doubts: [{ severity: "warning", code: "few-animals", message: "<u>few</u>", place: "<p>.csv" }],
  });
  const second = { ...hostile, sampleId: "b", collectedOn: "2024-01-01" };
  const pages = [batch(reportRun([hostile, second])), site(hostile, second)];

  it("has nothing of a file run or break out of its text", () => {
    for (const page of pages) expect(page).not.toMatch(/<script|<img|<b>|<i>|<u>|<p>\.csv/);
  });

  it("needs no script and no network, and says its language", () => {
    for (const page of pages) {
      expect(page).toMatch(/^<!doctype html>\n<html lang="en">/);
      const tags = page.replace(/="[^"]*"/g, "=").match(/<[^>]*>/g) ?? [];
      expect(tags.filter((tag) => /\s(?:src|srcset|on\w+)=/.test(tag))).toEqual([]);
      expect(page).not.toContain("@import");
      expect([...page.matchAll(/(?:href|url)[=(]["']?([^"')\s>]*)/g)].map(([, to]) => to ?? "")).toEqual(
        expect.not.arrayContaining([expect.stringMatching(/^(?:https?:|\/\/|data:|javascript:)/)]),
      );
    }
  });

  it("gives every picture a text, and every table a name", () => {
    for (const page of pages) {
      // Pictures inside others are parts of them; what only repeats a text is hidden.
      for (const [svg] of page.matchAll(/<svg(?! x=)[^>]*>/g))
        expect(svg).toMatch(/role="img" aria-label="[^"]{10,}"|aria-hidden="true"/);
      const tables = [...page.matchAll(/<table[^>]*>/g)].map(([table]) => table);
      for (const table of tables) expect(table).toMatch(/aria-label="[^"]+"/);
      expect(new Set(tables).size).toBe(tables.length);
    }
  });

  it("says that a score is no legal determination, and warns of what can hurt", () => {
    for (const page of pages) {
      expect(wordsOf(page)).toContain(
        "no legal determination unless the responsible agency's method was followed by qualified people".replace(
          "'",
          "&#39;",
        ),
      );
      expect(page).toMatch(/formalin/);
      expect(page).toMatch(/wade/);
      expect(page).toContain("For learning only.");
    }
  });

  it("is the same each time", () => {
    expect(site(hostile, second)).toBe(site(hostile, second));
  });
});

describe("the page of the batch", () => {
  const samples = [
    reportSample({ sampleId: "A", index: 65 }),
    reportSample({ sampleId: "B", index: 30, rating: "poor", stratum: "upland" }),
    reportSample({
      sampleId: "C",
      siteId: "V2",
      index: undefined,
      rating: "",
      status: "refused",
      doubtCodes: ["unknown-taxon"],
      whyNot: '"Zzyzx" is not known (sheet.csv, line 7)',
    }),
  ];

  it("counts ratings by stratum, from best to worst", () => {
    const text = wordsOf(batch(reportRun(samples)));
    expect(text).toContain(
      "stratum good fair poor refused samples upland 0 0 1 0 1 valley 1 0 0 1 2 all 1 0 1 1 3",
    );
    expect(text).toContain("3 samples of 2 sites; 2 scored, 1 refused or held back.");
  });

  it("lists samples from the worst on, whichever end of the scale that is", () => {
    const order = (run: ReportRun) => {
      const text = wordsOf(batch(run));
      return text.slice(text.indexOf("worst index first")).match(/ [AB] V1 /g);
    };
    const run = reportRun(samples);
    expect(order(run)).toEqual([" B V1 ", " A V1 "]);
    expect(order({ ...run, set: { ...run.set, higherIs: "worse" } })).toEqual([" A V1 ", " B V1 "]);
  });

  it("says why a sample was refused, with its place", () => {
    expect(wordsOf(batch(reportRun(samples)))).toContain(
      "C V2 refused &quot;Zzyzx&quot; is not known (sheet.csv, line 7)",
    );
  });

  it("says with which set, how that was checked, with which seed and files", () => {
    const text = wordsOf(batch(reportRun(samples)));
    expect(text).toContain(
      "vennaloo-demo 1.0.0. Made up. How it was checked: invented: not for any real stream",
    );
    expect(text).toContain(`run-2023: seed 1 sheet.csv: 9 rows, SHA-256 ${"cd".repeat(32)}`);
  });

  it("warns where sets differ, and never puts their indices together", () => {
    const run = reportRun([reportSample({ index: 60 })]);
    const other = reportRun([reportSample({ index: 80 })], {
      set: { ...run.set, version: "2.0.0", hash: "ef" },
    });
    const text = wordsOf(batch(run, other));
    expect(text).toContain("indices of different sets cannot be compared");
    expect(text).toContain("60 (1 sample), vennaloo-demo 1.0.0; 80 (1 sample), vennaloo-demo 2.0.0");
  });
});

describe("the page of a site", () => {
  it("says the rating in plain words, how near the next class is, and how animals were drawn", () => {
    const text = wordsOf(site(reportSample()));
    expect(text).toContain("Good: index 65. A few are missing. It lies 5 from fair.");
    expect(text).toContain(
      "330 animals of the sample count. 20 percent of the sample was sorted. Of these, 200 were drawn",
    );
    expect(text).toContain("It does not say that the water is safe to drink");
  });

  it("puts the mean of several samples beside the single ones, without field duplicates", () => {
    const text = wordsOf(
      site(
        reportSample({ sampleId: "a", index: 60 }),
        reportSample({ sampleId: "b", index: 70 }),
        reportSample({ sampleId: "c", index: 10, duplicateOf: "a" }),
      ),
    );
    expect(text).toContain("2023-05-16: index 65 (mean of the indices of 2 samples, from 60 to 70).");
    expect(text).toContain("field duplicate of a");
  });

  it("says that a place is rounded", () => {
    const place = { latitude: -47.2, longitude: -124.3, isBlurred: true };
    expect(wordsOf(site(reportSample({ place })))).toContain(
      "Latitude -47.2, longitude -124.3, rounded to 0.1 degree",
    );
  });

  it("tells of a sample that was not scored, and of one without an index", () => {
    expect(wordsOf(site(reportSample({ status: "held-back", index: undefined })))).toContain(
      "Not scored: held back.",
    );
    expect(wordsOf(site(reportSample({ index: undefined, rating: "" })))).toContain(
      "No index. The set gives none",
    );
  });

  it("draws a history from two days on only", () => {
    expect(site(reportSample())).not.toContain("over time");
    expect(site(reportSample(), reportSample({ sampleId: "b", collectedOn: "2024-05-01" }))).toContain(
      "Index of V1 over time. 2023-05-16: 65; 2024-05-01: 65.",
    );
  });
});
