import { describe, expect, it } from "vitest";
import { summaryKindOf } from "../../src/sheets/summary-rows.ts";
import { brief, readSheets } from "../helpers/reading.ts";
import { shared } from "../helpers/shared-tables.ts";

const told = (findings: Awaited<ReturnType<typeof readSheets>>["findings"]) =>
  findings.map((found) => `${brief(found)} ${found.sampleId} ${found.message}`);

describe("names of rows that sum up others", () => {
  it.each(["Total", "TOTALS:", "Grand total", "Subtotal", "sub-total", "Sum", "Total number of individuals"])(
    "%s is a total",
    (name) => expect(summaryKindOf(name)).toBe("total"),
  );

  it.each(["No. of organisms", "Number of animals", "Abundance", "Total abundance", "total count"])(
    "%s is a total too",
    (name) => expect(summaryKindOf(name)).toBe("total"),
  );

  it.each([
    "Richness",
    "Taxa richness",
    "Number of taxa",
    "No. of families",
    "# of taxa",
    "Total taxa",
    "EPT taxa",
    "EPT richness",
    "Shannon-Wiener index",
    "H'",
    "% EPT",
    "Mean",
  ])("%s is a figure", (name) => expect(summaryKindOf(name)).toBe("figure"));

  it.each([
    [
      "total",
      ["grand total", "SUB-SUM", "subtotals", "subsums", "sample sum", "sums", "# of specimens", "No counts"],
    ],
    [
      "figure",
      ["% ept", "Average", "biotic index", "density:", "different taxa", "Diversity", "ept families"],
    ],
    [
      "figure",
      ["evenness", "Families", "family biotic index", "family richness", "genera", "h'", "Hilsenhoff index"],
    ],
    ["figure", ["Max", "maximum", "median", "min", "Minimum", "no different genera", "percent EPT", "Range"]],
    [
      "figure",
      ["shannon", "simpson diversity", "species", "species richness (per m2)", "sum of taxa", "taxons"],
    ],
    ["figure", ["taxon diversity", "taxa count", "total species", "Total diversity"]],
  ] as const)("are of the kind %s, whatever they begin with: %s", (kind, names) => {
    for (const name of names) expect([name, summaryKindOf(name)]).toEqual([name, kind]);
  });

  it("are no names of animals", () => {
    const names = [...shared.tree.names, ...shared.synonyms.map((row) => row.name)];
    expect(names.length).toBeGreaterThan(1000);
    expect(names.filter((name) => summaryKindOf(name) !== undefined)).toEqual([]);
    for (const name of ["Totalia", "Summa", "Taxa", "Midge sp. 1", "Baetis total"].slice(0, 2))
      expect(summaryKindOf(name)).toBe(undefined);
  });
});

describe("a long sheet with rows of totals", () => {
  const head = "sample_id,taxon,count\n";

  it("has them left out, once told for each name, and held against the counts", async () => {
    const { rows, findings, refused } = await readSheets([
      `${head}S1,Epeorus,10\nS1,Total,10\nS2,Epeorus,4\nS2,Caenis,1\nS2,Total,6\nS2,Richness,2\n,Grand total,15\n`,
    ]);
    expect(rows).toEqual(["S1|Epeorus|10|unknown", "S2|Epeorus|4|unknown", "S2|Caenis|1|unknown"]);
    expect(told(findings)).toEqual([
      '3:2 note left-out-row  2 rows called "Total" sum up others and were left out',
      '7:2 note left-out-row  the row "Richness" sums up others and was left out',
      '8:2 note left-out-row  the row "Grand total" sums up others and was left out',
      "6:3 warning wrong-total S2 the total is 6, the counts above it add up to 5",
    ]);
    expect(refused).toEqual({});
  });

  it("may have subtotals below groups and a total of all", async () => {
    const { rows, findings } = await readSheets([
      `${head}S1,Epeorus,10\nS1,Caenis,2\nS1,Subtotal,12\nS1,Nais,5\nS1,Subtotal,5\nS1,Total,17\n`,
    ]);
    expect(rows).toHaveLength(3);
    expect(told(findings)).toEqual([
      '4:2 note left-out-row  2 rows called "Subtotal" sum up others and were left out',
      '7:2 note left-out-row  the row "Total" sums up others and was left out',
    ]);
  });

  it("has them left out however far down they stand", async () => {
    const many = Array.from({ length: 3000 }, (_, n) => `S${n},Epeorus,10\nS${n},Caenis,1\nS${n},Total,11\n`);
    const { rows, findings, refused } = await readSheets([`${head}${many.join("")},Grand total,33000\n`]);
    expect(rows).toHaveLength(6000);
    expect(told(findings)).toEqual([
      '4:2 note left-out-row  3000 rows called "Total" sum up others and were left out',
      '9002:2 note left-out-row  the row "Grand total" sums up others and was left out',
    ]);
    expect(refused).toEqual({});
  });

  it("keeps a sample of which nothing but a total is written", async () => {
    const { sheets, rows } = await readSheets([`${head}S1,Total,0\nS2,Nais,3\n`]);
    expect([sheets.table.samples.texts, rows]).toEqual([["S1", "S2"], ["S2|Nais|3|unknown"]]);
  });
});

describe("a cross-tab with rows of totals and figures", () => {
  it("reads the animals alone", async () => {
    const { rows, findings, refused } = await readSheets([
      "taxon,S1,S2\nEpeorus,10,3\nSubtotal,10,3\nCaenis,1,1\nSubtotal,1,1\nTotal,11,4\nRichness,2,2\nNumber of taxa,2,2\nShannon index,0.69,0.5\n% EPT,100%,100%\n",
    ]);
    expect(rows).toHaveLength(4);
    expect(findings.map((one) => one.code)).toEqual(Array(7).fill("left-out-row"));
    expect(refused).toEqual({});
  });
});
