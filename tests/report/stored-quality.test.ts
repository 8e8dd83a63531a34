import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { QualityReport } from "../../src/report/quality-page.ts";
import { qualitySection } from "../../src/report/quality-section.ts";
import { readQuality, storedQuality } from "../../src/report/stored-quality.ts";
import { freshFolder } from "../helpers/run-jartally.ts";
import { wordsOf } from "./page-words.ts";

const REPORT: QualityReport = {
  title: "Sorting <checks>",
  outcome: "fail",
  summary: "2 checks: 1 passed, 1 failed",
  rules: ["A sample passes at 90 percent."],
  tables: [
    {
      id: "samples",
      title: "Samples",
      explains: "One row a check.",
      columns: [
        { name: "sample_id", kind: "text" },
        { name: "efficiency_percent", kind: "number" },
        { name: "hidden", kind: "text" },
      ],
      brief: ["sample_id", "efficiency_percent"],
      rows: [
        ["A", 96.25, "x"],
        ["B", null, "y"],
      ],
    },
    {
      id: "steps",
      title: "What to do next",
      explains: "x",
      brief: ["step"],
      columns: [{ name: "step", kind: "text" }],
      rows: [["recount B"]],
    },
  ],
  charts: [
    {
      person: "ana",
      figure: "Sorting efficiency",
      limit: undefined,
      side: "at-least",
      points: [{ sampleId: "B", date: "", value: undefined, outcome: "not-computable" }],
      mean: undefined,
      failures: 0,
    },
  ],
  findings: [],
  inputs: [{ file: "c.csv", sha256: "ab12", rows: 2 }],
};
const { findings: _, ...KEPT } = REPORT;

const folderWith = (text: string): string => {
  const folder = join(freshFolder(), `${Math.abs(text.length)}`);
  mkdirSync(folder);
  writeFileSync(join(folder, "quality.json"), text);
  return folder;
};

describe("quality figures kept for later reports", () => {
  it("are read back as they were", async () => {
    expect(await readQuality(folderWith(storedQuality(REPORT)), "q")).toEqual(KEPT);
  });

  it("name the file and the fault where it is not what a quality command leaves", async () => {
    await expect(readQuality(folderWith("{"), "q")).rejects.toThrow("q/quality.json: is not JSON");
    await expect(readQuality(folderWith('{"form":"x"}'), "q")).rejects.toThrow(
      /^q\/quality\.json: is not what qc --report leaves: .* at form$/,
    );
    const other = storedQuality(REPORT).replace('"fail"', '"splendid"');
    await expect(readQuality(folderWith(other), "q")).rejects.toThrow(/at outcome$/);
    await expect(readQuality(join(freshFolder(), "nowhere"), "q")).rejects.toThrow("q/quality.json");
  });
});

describe("quality figures on the page of the batch", () => {
  const page = qualitySection([KEPT])?.text ?? "";

  it("give the result, what to do, charts, the main table and the rules, in this order", () => {
    const text = wordsOf(page);
    const places = [
      "At least one limit is missed. 2 checks: 1 passed, 1 failed.",
      "recount B",
      "Sorting efficiency of ana",
      "A 96.25 B",
      "A sample passes at 90 percent.",
      "c.csv: SHA-256 ab12",
    ].map((part) => text.indexOf(part));
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
    expect(page).not.toContain("hidden");
  });

  it("escape what comes from files, and keep names of tables apart", () => {
    expect(page).toContain("Sorting &lt;checks&gt;");
    const two = qualitySection([KEPT, KEPT])?.text ?? "";
    const labels = [...two.matchAll(/<table[^>]*aria-label="([^"]*)"/g)].map(([, label]) => label);
    expect(labels).toHaveLength(4);
    expect(new Set(labels).size).toBe(4);
  });

  it("are left out when none are given", () => {
    expect(qualitySection([])).toBe(undefined);
  });
});
