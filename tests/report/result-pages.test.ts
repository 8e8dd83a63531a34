import { describe, expect, it } from "vitest";
import { batchPage } from "../../src/report/batch-page.ts";
import { describeHistory, drawHistory } from "../../src/report/history-chart.ts";
import { indexScale, scaleEnds } from "../../src/report/index-scale.ts";
import { metricBars } from "../../src/report/metric-bars.ts";
import type { ReportRun, ReportSample } from "../../src/report/report-data.ts";
import { sitePage } from "../../src/report/site-page.ts";
import { sitesOf } from "../../src/report/sites.ts";
import { sensitiveFirst, taxaSection } from "../../src/report/taxa-section.ts";
import { reportRun, reportSample } from "./report-sample.ts";

const batch = (...runs: ReportRun[]) => batchPage(runs, sitesOf(runs), "Results");
const site = (...samples: ReportSample[]) => {
  const [first] = sitesOf([reportRun(samples)]);
  if (first === undefined) throw new Error("no site");
  return sitePage(first);
};
/** The text of a page without its tags, in one line. */
const words = (page: string) =>
  page
    .replace(/<style>[\s\S]*?<\/style>/, "")
    .replace(/<[^>]*>/g, " ")
    .replace(/\s+/g, " ");

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
      for (const [svg] of page.matchAll(/<svg[^>]*>/g))
        expect(svg).toMatch(/role="img" aria-label="[^"]{10,}"/);
      for (const [table] of page.matchAll(/<table[^>]*>/g)) expect(table).toMatch(/aria-label="[^"]+"/);
    }
  });

  it("says that a score is no legal determination, and warns of what can hurt", () => {
    for (const page of pages) {
      expect(words(page)).toContain(
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
      doubts: [
        {
          severity: "error",
          code: "unknown-taxon",
          message: '"Zzyzx" is not known',
          place: "sheet.csv, line 7",
        },
      ],
    }),
  ];

  it("counts ratings by stratum, from best to worst", () => {
    const text = words(batch(reportRun(samples)));
    expect(text).toContain(
      "stratum good fair poor refused samples upland 0 0 1 0 1 valley 1 0 0 1 2 all 1 0 1 1 3",
    );
    expect(text).toContain("3 samples of 2 sites; 2 scored, 1 refused or held back.");
  });

  it("lists samples from the worst on, whichever end of the scale that is", () => {
    const order = (run: ReportRun) => {
      const text = words(batch(run));
      return text.slice(text.indexOf("worst index first")).match(/ [AB] V1 /g);
    };
    const run = reportRun(samples);
    expect(order(run)).toEqual([" B V1 ", " A V1 "]);
    expect(order({ ...run, set: { ...run.set, higherIs: "worse" } })).toEqual([" A V1 ", " B V1 "]);
  });

  it("says why a sample was refused, with its place", () => {
    expect(words(batch(reportRun(samples)))).toContain(
      "C V2 refused &quot;Zzyzx&quot; is not known (sheet.csv, line 7)",
    );
  });

  it("says with which set, how that was checked, with which seed and files", () => {
    const text = words(batch(reportRun(samples)));
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
    const text = words(batch(run, other));
    expect(text).toContain("indices of different sets cannot be compared");
    expect(text).toContain("60 (1 sample), vennaloo-demo 1.0.0; 80 (1 sample), vennaloo-demo 2.0.0");
  });
});

describe("the page of a site", () => {
  it("says the rating in plain words, how near the next class is, and how animals were drawn", () => {
    const text = words(site(reportSample()));
    expect(text).toContain("Good: index 65. A few are missing. It lies 5 from fair.");
    expect(text).toContain(
      "330 animals of the sample count. 20 percent of the sample was sorted. Of these, 200 were drawn",
    );
    expect(text).toContain("It does not say that the water is safe to drink");
  });

  it("puts the mean of several samples beside the single ones, without field duplicates", () => {
    const text = words(
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
    expect(words(site(reportSample({ place })))).toContain(
      "Latitude -47.2, longitude -124.3, rounded to 0.1 degree",
    );
  });

  it("tells of a sample that was not scored, and of one without an index", () => {
    expect(words(site(reportSample({ status: "held-back", index: undefined })))).toContain(
      "Not scored: held back.",
    );
    expect(words(site(reportSample({ index: undefined, rating: "" })))).toContain(
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

describe("pictures", () => {
  it("show where an index stands, and end beyond open classes", () => {
    const { classes } = reportSample();
    expect(scaleEnds(classes, [65])).toEqual([31, 100]);
    const text = indexScale(reportSample())?.text ?? "";
    // (65 - 31) / (100 - 31) of the 696 units between the edges, behind the edge of 12.
    expect(text).toContain('<path d="M354.96 40');
    expect(text).toContain("Index 65, good, on a scale of poor below 40; fair from 40 to below 60");
    expect(indexScale(reportSample({ index: undefined }))).toBe(undefined);
  });

  it("fill a bar by how far the score is from the worst", () => {
    expect(metricBars(reportSample())?.text).toContain('width="119.25" height="13" class="fill"');
    const [metric] = reportSample().metrics;
    if (metric === undefined) throw new Error("no metric");
    const turned = metricBars(
      reportSample({ metrics: [{ ...metric, score: 2.5, scores: { worst: 10, best: 0 } }] }),
    );
    expect(turned?.text).toContain('width="119.25" height="13" class="fill"');
    const missing = { ...metric, value: undefined, score: undefined, whyMissing: "no area in the log" };
    expect(words(metricBars(reportSample({ metrics: [missing] }))?.text ?? "")).toContain(
      "none taxa no area in the log. from 8",
    );
  });

  it("tell the history in words and draw a mark for every day, with the range of several samples", () => {
    const history = {
      name: "V1",
      days: [
        { day: "2022-05-01", samples: [reportSample({ index: 50 }), reportSample({ index: 60 })] },
        { day: "2023-05-01", samples: [reportSample({ index: undefined })] },
      ],
      classes: reportSample().classes,
    };
    expect(describeHistory(history)).toBe(
      "Index of V1 over time. 2022-05-01: 55 (mean of 2, from 50 to 60); 2023-05-01: no index.",
    );
    const svg = drawHistory(history, "h");
    expect(svg).toContain("60 good");
    expect(svg).not.toMatch(/<style|zr\d/);
    expect(drawHistory(history, "h")).toBe(svg);
  });
});

describe("taxa", () => {
  const { taxa } = reportSample();
  const first = (direction: "higher-is-tolerant" | "higher-is-sensitive" | "") =>
    sensitiveFirst(taxa, direction).map(({ group }) => group);

  it("stand with the sensitive ones first, by the direction of the values", () => {
    expect(first("higher-is-tolerant")).toEqual(["stoneflies", "non-biting midges"]);
    expect(first("higher-is-sensitive")).toEqual(["non-biting midges", "stoneflies"]);
    expect(first("")).toEqual(["non-biting midges", "stoneflies"]);
    const unknown = { taxon: "Aaa", group: "", count: 1, share: 0, tolerance: undefined };
    expect(sensitiveFirst([unknown, ...taxa], "higher-is-tolerant").map(({ group }) => group)).toEqual([
      "stoneflies",
      "non-biting midges",
      "other animals",
    ]);
  });

  it("are named with their values, and without where the set has none", () => {
    expect(words(taxaSection(taxa, "higher-is-tolerant")?.text ?? "")).toContain(
      "The most sensitive animals found: Leuctra (stoneflies) 0, Chironomidae (non-biting midges) 6.",
    );
    expect(taxaSection(taxa, "")?.text).not.toContain("tolerance");
  });
});
