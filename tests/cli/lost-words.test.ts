import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { freshFolder, runJartally } from "../helpers/run-jartally.ts";

function lab() {
  const cwd = freshFolder();
  writeFileSync(join(cwd, "a.csv"), "sample_id,taxon,count\nS,Betis,3\n");
  writeFileSync(join(cwd, "log.csv"), "sample_id\nS\n");
  writeFileSync(join(cwd, "other.csv"), "sample_id\nS\n");
  return { cwd, check: (...words: string[]) => runJartally(["check", "a.csv", ...words], { cwd }) };
}

describe("an option given twice", () => {
  it("is refused, since one of its values would be dropped", () => {
    const { check } = lab();
    const twice = check("--samples", "log.csv", "--samples", "other.csv");
    expect([twice.status, twice.stdout]).toEqual([2, ""]);
    expect(twice.stderr).toMatch(/--samples is given twice, as "log\.csv" and "other\.csv"/);
  });

  it("is in order with the same value, and so is a switch", () => {
    const { check } = lab();
    expect(check("--samples", "log.csv", "--samples=log.csv", "-q", "--quiet").status).toBe(3);
  });
});

describe("the file for the findings", () => {
  it("holds every finding, however few are printed", () => {
    const { cwd, check } = lab();
    expect(check("--findings", "f.csv", "--max-findings", "0", "-q").status).toBe(3);
    const [header, ...rows] = readFileSync(join(cwd, "f.csv"), "utf8").trimEnd().split(/\r?\n/);
    expect(header).toBe("file,line,column,severity,code,sample_id,message,hint");
    expect(rows).toEqual([
      expect.stringMatching(/^a\.csv,2,2,error,unknown-taxon,S,"""Betis"" is no known taxon;/),
    ]);
  });

  it("is no input, no output, no standard output and no file that is there", () => {
    const { cwd, check } = lab();
    for (const words of [["a.csv", "--force"], ["-"], ["x.csv", "-o", "x.csv"]])
      expect([words, check("--findings", ...words).status]).toEqual([words, 2]);
    expect(check("--findings", "log.csv").status).toBe(4);
    expect(readFileSync(join(cwd, "log.csv"), "utf8")).toBe("sample_id\nS\n");
    expect(readFileSync(join(cwd, "a.csv"), "utf8")).toContain("Betis");
  });
});
