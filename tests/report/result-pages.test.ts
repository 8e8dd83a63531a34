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

describe("what is not known of a sample", () => {
  const bare = reportSample({
    sampleId: "S-1",
    siteId: "",
    collectedOn: "",
    waterbody: "",
    stratum: "",
    index: undefined,
    rating: "",
    next: undefined,
    classes: [],
    scored: undefined,
    counted: undefined,
    fractionSorted: undefined,
    metrics: [],
    taxa: [],
    place: undefined,
  });

  it("is left out of its page, which says what there is", () => {
    const words = wordsOf(site(bare));
    expect(words).toContain("Sample S-1 Result over all samples, vennaloo-demo 1.0.0 No index.");
    expect(words).toContain("No index. The set gives none for this sample; the metrics below say why.");
    expect(words).toContain("Scored with Demonstration index, vennaloo-demo 1.0.0.");
    for (const absent of [
      "Latitude",
      "stratum",
      "How the animals were counted",
      "Who lived there",
      "undefined",
      "NaN",
    ])
      expect(words).not.toContain(absent);
  });

  it("is an empty cell or a word in the list of the batch, where it stands first", () => {
    const words = wordsOf(batch(reportRun([reportSample(), bare])));
    // sample, animals, index, rating; then the ordinary one.
    expect(words).toMatch(/S-1 none no index V1-2023 V1 2023-05-16 valley 200 65 good 5 to fair/);
  });

  it("says in place of a class that there is none, and nothing of a nearest one", () => {
    const words = wordsOf(site({ ...bare, index: 65 }));
    expect(words).toContain("No class: index 65.");
    expect(words).not.toContain("It lies");
    expect(wordsOf(batch(reportRun([{ ...bare, index: 65 }])))).toContain("65 no class");
  });

  it("gives days that are not known a name, with the newest result of several samples", () => {
    const words = wordsOf(
      site(...["A", "B"].map((sampleId) => reportSample({ sampleId, collectedOn: "", waterbody: "" }))),
    );
    expect(words).toContain("Site V1 ");
    expect(words).toContain("Newest result A: Good: index 65.");
    expect(words).toContain("Day not known: index 65 (mean of the indices of 2 samples, from 65 to 65).");
  });

  it("has nothing but its place where no sample of the site has an index on a day", () => {
    const none = ["A", "B"].map((sampleId) =>
      reportSample({ sampleId, index: undefined, rating: "", next: undefined }),
    );
    expect(wordsOf(site(...none))).not.toContain("2023-05-16: index");
  });
});

describe("samples beside ordinary ones", () => {
  it("are called what they are, in the list and on their page", () => {
    const samples = [
      reportSample({ sampleId: "A" }),
      reportSample({ sampleId: "A-D", duplicateOf: "A" }),
      reportSample({ sampleId: "A-R", replicateOf: "A" }),
    ];
    const list = wordsOf(batch(reportRun(samples)));
    expect(list).toContain("field duplicate of A");
    expect(list).toContain("replicate of A");
    const words = wordsOf(site(...samples));
    expect(words).toContain(
      "A field duplicate of A: it shows how well sampling repeats and is no part of the site",
    );
    expect(words).toContain("A replicate of A: both stand for the same visit.");
  });

  it("scored with another set stand apart, and the page says why", () => {
    const first = reportRun([reportSample({ sampleId: "A" })]);
    const other = reportRun([reportSample({ sampleId: "B" })], {
      set: { ...first.set, id: "other-set", hash: "ef".repeat(32), title: "Another index" },
    });
    const [one] = sitesOf([first, other]);
    if (one === undefined) throw new Error("no site");
    const words = wordsOf(sitePage(one));
    expect(words).toContain("indices of different sets cannot be compared");
    expect(words).toContain("Result over all samples, other-set 1.0.0");
    expect(wordsOf(batch(first, other))).toContain("Another index, other-set 1.0.0");
  });
});

describe("how sure a result is", () => {
  const interval = {
    low: 60,
    high: 70,
    what: "90 percent interval",
    about: "About.",
    support: 0.94,
    nextRating: "fair",
  };

  it("stands in a sentence behind the rating, as far as it is known", () => {
    const verdictOf = (over: Partial<WholeSample>) => wordsOf(site(reportSample(over)));
    expect(verdictOf({ interval })).toContain(
      "How sure: the 90 percent interval goes from 60 to 70. Of the repeated draws, 94 percent came out good too; the next most likely rating is fair.",
    );
    expect(verdictOf({ interval: { ...interval, nextRating: "" } })).toContain(
      "94 percent came out good too.",
    );
    const unrated = verdictOf({ interval: { ...interval, support: undefined }, rating: "" });
    expect(unrated).toContain("goes from 60 to 70.");
    expect(unrated).not.toContain("Of the repeated draws");
  });

  it("stands in the list only for samples that have an interval", () => {
    const words = wordsOf(
      batch(reportRun([reportSample({ sampleId: "A", interval }), reportSample({ sampleId: "B" })])),
    );
    expect(words).toMatch(/A V1 2023-05-16 valley 200 65 60 to 70 94 % good/);
    expect(words).toMatch(/B V1 2023-05-16 valley 200 65 good/);
  });
});
