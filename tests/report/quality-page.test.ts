import { describe, expect, it } from "vitest";
import { finding } from "../../src/findings/finding.ts";
import type { QualityReport } from "../../src/report/quality-page.ts";
import { qualityPage } from "../../src/report/quality-page.ts";

const REPORT: QualityReport = {
  title: "Sorting checks",
  outcome: "fail",
  summary: "2 checks: 1 passed, 1 failed",
  rules: ["A sample passes at 90 percent & above."],
  tables: [
    {
      id: "samples",
      title: "Samples",
      explains: "One row a check.",
      brief: ["sample_id", "rpd_percent", "outcome"],
      columns: [
        { name: "sample_id", kind: "text" },
        { name: "rpd_percent", kind: "number" },
        { name: "outcome", kind: "text" },
        { name: "hidden", kind: "text" },
      ],
      rows: [
        ["<A>", 12.3456, "pass", "only in the file"],
        ["B", null, "fail", ""],
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
    { id: "lots", title: "Lots", explains: "x", brief: [], columns: [], rows: [] },
  ],
  charts: [],
  findings: [finding("limit-missed", { file: "c.csv", line: 3, column: 1 }, { message: "B <fails>" })],
  inputs: [{ file: "c.csv", sha256: "ab12", rows: 2 }],
};

describe("qualityPage", () => {
  const page = qualityPage(REPORT);

  it("says the result in words first", () => {
    expect(page).toContain(
      '<p class="verdict fail"><strong>At least one limit is missed.</strong> 2 checks: 1 passed, 1 failed.</p>',
    );
  });

  it("puts what to do before the other tables and leaves empty tables out", () => {
    const headings = [...page.matchAll(/<h2[^>]*>([^<]*)<\/h2>/g)].map((match) => match[1]);
    expect(headings).toEqual([
      "What to do next",
      "Samples",
      "Findings",
      "Rules and sources",
      "Files read",
      "Cautions",
    ]);
  });

  it("shows the main columns, rounded, with outcomes as words, and names the file with all of them", () => {
    expect(page).toContain('<th scope="col" class="number">RPD percent</th>');
    expect(page).toContain(
      '<tr><th scope="row" class="short">&lt;A&gt;</th><td class="number" data-label="RPD percent">12.35</td><td class="short pass" data-label="outcome">pass</td></tr>',
    );
    expect(page).toContain(
      '<tr><th scope="row" class="short">B</th><td class="number"></td><td class="short fail" data-label="outcome">fail</td></tr>',
    );
    expect(page).not.toContain("only in the file");
    expect(page).toContain('<a href="samples.csv">samples.csv</a>');
  });

  it("escapes texts of files and users, and loads nothing", () => {
    expect(page).toContain("B &lt;fails&gt;");
    expect(page).not.toMatch(/<script|src=|@import|url\(/);
    expect(page).toContain("default-src &#39;none&#39;".replaceAll("&#39;", "'"));
  });

  it("carries the cautions", () => {
    expect(page).toContain("no legal determination");
    expect(page).toContain("ethanol burns");
    expect(page).toContain("SHA-256 <code>ab12</code>");
  });
});
