import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { readWhole } from "../helpers/reading.ts";

// csv-spectrum 2.0.0 (MIT): twelve files of known CSV trouble, each with what a reader must make of it.
const ROOT = dirname(createRequire(import.meta.url).resolve("csv-spectrum/package.json"));
const NAMES = readdirSync(join(ROOT, "csvs")).map((name) => name.replace(/\.csv$/, ""));

describe("csv-spectrum", () => {
  it("has its twelve files", () => {
    expect(NAMES.length).toBe(12);
  });

  it.each(NAMES)("%s reads as it should", async (name) => {
    const answer: Record<string, string>[] | Record<string, string> = JSON.parse(
      readFileSync(join(ROOT, "json", `${name}.json`), "utf8"),
    );
    const expected = Array.isArray(answer) ? answer : [answer];
    const { header, rows, findings } = await readWhole(readFileSync(join(ROOT, "csvs", `${name}.csv`)));
    // Two answers were written with LF where their files have CRLF within cells, and one phone number was changed.
    const plain = (text: string) => text.replaceAll("\r\n", "\n").replace("2095257564", "1234567890");
    const read = rows.map((row) => Object.fromEntries(header.map((key, at) => [key, plain(row[at] ?? "")])));
    expect(read).toEqual(
      expected.map((row) => Object.fromEntries(Object.entries(row).map(([k, v]) => [k, plain(v)]))),
    );
    // The file with coordinates has the sign for seconds in cells without quotes.
    expect(findings.map((one) => one.code)).toEqual(name === "location_coordinates" ? ["stray-quote"] : []);
  });
});
