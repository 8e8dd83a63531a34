import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demoFolder, freshFolder, runJartally } from "../helpers/run-jartally.ts";

const LOG = `sample_id,site_id,collected_on,received_on,stratum,containers_expected,containers_received,preservative,preservative_fraction,ethanol_percent,duplicate_of
A,V1,2024-06-03,2024-06-04,upland,1,1,ethanol,0.9,95,
B,V2,2024-06-03,2024-06-04,valley,2,1,ethanol,0.45,95,
C,V3,2024-06-03,2024-06-02,valley,1,1,ethanol,0.72,95,
D,V4,2024-06-03,2024-06-04,valley,1,1,formalin,0.3,,Z
`;
const SHEET = `sample_id,taxon,count
A,Baetis,12
A,Juga,4
B,Baetis,7
C,Betis,3
C,Caenis,1
X,Caenis,1
X,Betis,2
`;

function lab() {
  const folder = freshFolder();
  writeFileSync(join(folder, "log.csv"), LOG);
  writeFileSync(join(folder, "sheet.csv"), SHEET);
  writeFileSync(join(folder, "alerts.csv"), "taxon,kind,note\nJuga,invasive,call the office\n");
  const check = (...words: string[]) => {
    const day = words.includes("--today") ? [] : ["--today", "2024-06-20"];
    return runJartally(["check", "sheet.csv", "--samples", "log.csv", ...day, ...words], { cwd: folder });
  };
  return { folder, check };
}

/** The lines behind the findings. */
function summaryOf(stderr: string): string[] {
  const lines = stderr.trim().split("\n");
  return lines.slice(lines.findIndex((line) => line.startsWith("findings:")) + 1);
}

describe("check", () => {
  it("says what to see to first, what is ready, held back, refused or missing, and why", () => {
    const { check } = lab();
    const { stdout, stderr, status } = check("--alerts", "alerts.csv");
    expect(summaryOf(stderr)).toEqual([
      "ALERT invasive Juga: A (4 Juga); call the office",
      "see to first:",
      "  preservative fills 0.45 of the jar of B, less than half; the ethanol in B has come to 42.7 percent",
      "  the ethanol in C has come to 68.4 percent",
      "samples: 1 ready, 1 held-back, 2 refused, 1 missing",
      "held back (1 of 2 jars are in): B",
      "refused (unknown-taxon): C, X",
      "missing (no counts): D",
    ]);
    expect(stdout).toBe(
      `sample_id,site_id,collected_on,readiness,individuals,flags,why,see_to_first
A,V1,2024-06-03,ready,16,listed-taxon,,
B,V2,2024-06-03,held-back,7,jars-missing;low-preservative;weak-ethanol,1 of 2 jars are in,"preservative fills 0.45 of the jar of B, less than half; the ethanol in B has come to 42.7 percent"
C,V3,2024-06-03,refused,,dates-out-of-order;unknown-taxon;weak-ethanol,unknown-taxon,the ethanol in C has come to 68.4 percent
X,,,refused,,unknown-taxon,unknown-taxon,
D,V4,2024-06-03,missing,,no-counts;unknown-sample,no counts,
`,
    );
    expect(status).toBe(3);
  });

  it("is silent with --quiet but for errors", () => {
    const { check } = lab();
    const { stderr } = check("--alerts", "alerts.csv", "--quiet");
    const lines = stderr.trim().split("\n");
    expect(lines.filter((line) => !/ error unknown-taxon /.test(line))).toEqual(["findings: 2 errors"]);
  });

  it("checks strata and season of a set", () => {
    const { folder, check } = lab();
    writeFileSync(
      join(folder, "log.csv"),
      LOG.replace("A,V1,2024-06-03,2024-06-04,upland", "A,V1,2024-01-03,2024-06-04,hills"),
    );
    const { stdout, status } = check("--reference", "vennaloo-demo");
    expect(stdout).toContain("\nA,V1,2024-01-03,refused,,no-stratum;outside-season,no-stratum,\n");
    expect(status).toBe(3);
  });

  it("checks dates against the day given, and takes a day only", () => {
    const { check } = lab();
    expect(check("--today", "2024-06-02").stderr).toContain(
      "log.csv:2:3 warning future-date collected_on of A is 2024-06-03, after today (2024-06-02)",
    );
    for (const day of ["2024-02-30", "6/2/2024", "2024-06-02T10:00"])
      expect([check("--today", day).status, check("--today", day).stdout]).toEqual([2, ""]);
  });

  it("takes today from the clock when none is given", () => {
    const { folder } = lab();
    writeFileSync(join(folder, "log.csv"), "sample_id,collected_on\nA,9999-12-31\n");
    const { stderr } = runJartally(["check", "sheet.csv", "--samples", "log.csv"], { cwd: folder });
    expect(stderr).toMatch(/collected_on of A is 9999-12-31, after today \(2\d{3}-\d\d-\d\d\)/);
  });

  it("refuses a list of taxa to watch for that cannot be used", () => {
    const { folder, check } = lab();
    writeFileSync(join(folder, "alerts.csv"), "taxon,kind\nJuga,pest\n");
    const { stdout, stderr, status } = check("--alerts", "alerts.csv");
    expect([stdout, status]).toEqual(["", 3]);
    expect(stderr).toContain('alerts.csv:2:2 error bad-value kind "pest" cannot be used');
  });
});

describe("check --write-names", () => {
  it("collects the open names once, and the filled list resolves them", () => {
    const { folder, check } = lab();
    const first = check("--write-names", "open.csv");
    expect(first.stderr).toContain(
      "open.csv: 2 open names; fill in accepted_name and give it back with --names open.csv",
    );
    const list = readFileSync(join(folder, "open.csv"), "utf8").trimEnd().split(/\r?\n/);
    expect(list[0]).toBe("sheet_name,accepted_name,note");
    expect(list.filter((line) => line.startsWith("Betis,"))).toEqual([
      'Betis,,"2 rows; close names: Baetis, Baetidae"',
    ]);
    // Baetis itself is found, with a doubt that a person may settle once.
    expect(list.filter((line) => line.startsWith("Baetis,"))).toHaveLength(1);
    writeFileSync(
      join(folder, "open.csv"),
      list.join("\n").replace("Betis,,", "Betis,Baetis,").replace("Baetis,,", "Baetis,Baetis,"),
    );
    const second = check("--names", "open.csv", "--write-names", "rest.csv");
    expect(second.stderr).not.toMatch(/unknown-taxon|ambiguous-name/);
    expect(second.stdout).toContain("\nC,V3,2024-06-03,ready,4,");
    expect(second.stderr).toContain("rest.csv: no name is open");
    // The decisions of the lab are in the new list too, so that it can take the place of the old one.
    const rest = readFileSync(join(folder, "rest.csv"), "utf8");
    expect(rest).toContain("Betis,Baetis,");
  });

  it("overwrites nothing without --force, and never an input or the output", () => {
    const { folder, check } = lab();
    writeFileSync(join(folder, "open.csv"), "precious");
    const refused = check("--write-names", "open.csv");
    expect([refused.status, refused.stdout]).toEqual([4, ""]);
    expect(readFileSync(join(folder, "open.csv"), "utf8")).toBe("precious");
    expect(check("--write-names", "sheet.csv", "--force").status).toBe(2);
    expect(check("--write-names", "new.csv", "-o", "new.csv").status).toBe(2);
    expect(check("--write-names", "open.json").status).toBe(2);
    expect(check("--write-names", "-").status).toBe(2);
    expect(existsSync(join(folder, "new.csv"))).toBe(false);
    expect(check("--write-names", "open.csv", "--force").status).toBe(3);
    expect(readFileSync(join(folder, "open.csv"), "utf8")).toMatch(/^sheet_name,accepted_name,note/);
  });

  it("writes names that a spreadsheet would run so that they read back", () => {
    const { folder, check } = lab();
    writeFileSync(join(folder, "sheet.csv"), "sample_id,taxon,count\nA,=Betis,1\nA,Caenis,2\n");
    check("--write-names", "open.csv");
    const text = readFileSync(join(folder, "open.csv"), "utf8");
    expect(text).toContain("'=Betis,,");
    writeFileSync(join(folder, "open.csv"), text.replace("'=Betis,,", "'=Betis,Baetis,"));
    expect(check("--names", "open.csv").stdout).toContain("\nA,V1,2024-06-03,ready,3,");
  });
});

describe("the demo batch", () => {
  it("has one jar to see to first", () => {
    const words = ["check", "bench-sheet.csv", "--samples", "sample-log.csv", "--names", "names.csv"];
    const { stderr, status } = runJartally([...words, "--today", "2024-12-01"], { cwd: demoFolder() });
    expect(summaryOf(stderr)).toEqual([
      "see to first:",
      "  preservative fills 0.40 of the jar of L4-2023-09, less than half; the ethanol in L4-2023-09 has come to 38 percent",
      "samples: 37 ready",
    ]);
    expect(status).toBe(0);
  });
});
