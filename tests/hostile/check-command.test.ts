import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { freshFolder, runJartally } from "../helpers/run-jartally.ts";
import { workbook, workbookParts, zipParts } from "../helpers/workbook.ts";

const HEADER = "sample_id,taxon,count\n";
const SHEET = `${HEADER}S1,Caenis,3\nS2,Tubifex,12\n`;

/** Checks a file as a user would; the first column of the table, the lines of findings without their hints. */
function check(name: string, content: string | Uint8Array, words: readonly string[] = []) {
  const folder = freshFolder();
  writeFileSync(join(folder, name), content);
  const { stdout, stderr, status } = runJartally(["check", name, ...words], { cwd: folder });
  const findings = stderr
    .split("\n")
    .filter((line) => /^\S+:\d+:\d+ (error|warning|note) /.test(line))
    .map((line) => line.replace(/ \([^()]*(?:\([^()]*\)[^()]*)*\)$/, ""));
  return { stdout, stderr, status, findings };
}

function utf16(text: string, isBig: boolean): Uint8Array {
  const bytes = Buffer.from(`\ufeff${text}`, "utf16le");
  return isBig ? bytes.swap16() : bytes;
}

describe("one and the same sheet in many forms", () => {
  const plain = check("s.csv", SHEET);

  it("is in order", () => {
    expect([plain.status, plain.findings]).toEqual([0, []]);
    expect(plain.stdout).toContain("S2,,,ready,12,");
  });

  it.each([
    ["a byte order mark", "s.csv", `\ufeff${SHEET}`],
    ["UTF-16, little end first", "s.csv", utf16(SHEET, false)],
    ["UTF-16, big end first", "s.csv", utf16(SHEET, true)],
    ["CRLF", "s.csv", SHEET.replaceAll("\n", "\r\n")],
    ["lone CR", "s.csv", SHEET.replaceAll("\n", "\r")],
    ["mixed line ends", "s.csv", SHEET.replace("\n", "\r\n")],
    ["quotes around every cell", "s.csv", SHEET.replace(/[^,\n]+/g, '"$&"')],
    ["semicolons", "s.csv", SHEET.replaceAll(",", ";")],
    ["tabs, called .tsv", "s.tsv", SHEET.replaceAll(",", "\t")],
    ["blank lines at the end", "s.csv", `${SHEET}\n,,\n\n`],
    ["gzip", "s.csv.gz", gzipSync(SHEET)],
    ["a cross-tab", "s.csv", "taxon,S1,S2\nCaenis,3,\nTubifex,0,12\n"],
    [
      "a workbook",
      "s.xlsx",
      workbook([
        {
          name: "Bench",
          rows: [
            ["sample_id", "taxon", "count"],
            ["S1", "Caenis", 3],
            ["S2", "Tubifex", 12],
          ],
        },
      ]),
    ],
    [
      "a workbook called .csv",
      "s.csv",
      workbook([
        {
          name: "B",
          rows: [
            ["taxon", "S1", "S2"],
            ["Caenis", 3],
            ["Tubifex", null, 12],
          ],
        },
      ]),
    ],
  ])("gives the same bytes with %s", (_, name, content) => {
    const { stdout, findings, status } = check(name, content);
    expect([stdout, findings, status]).toEqual([plain.stdout, [], 0]);
  });
});

describe("odd and hostile files", () => {
  it.each([
    ["nothing at all", "", ["s.csv:0:0 error empty-file the file is empty"], 3],
    ["only a mark", "\ufeff", ["s.csv:0:0 error empty-file the file holds nothing but a mark"], 3],
    ["only a header", HEADER, ["s.csv:1:0 warning no-rows there is a header and no row below it"], 0],
    [
      "only remarks",
      "# a remark\n# another\n",
      [
        's.csv:1:0 error missing-column there are no columns "sample_id", "taxon" and "count"; the only column is # a remark',
      ],
      3,
    ],
    [
      "a Latin-1 name",
      Buffer.from(`${HEADER}S1,Ca\xe9nis,3\n`, "latin1"),
      ["s.csv:2:2 error bad-encoding byte 0xE9 is not UTF-8"],
      3,
    ],
    [
      "a NUL",
      `${HEADER}S1,Cae\0nis,3\n`,
      ['s.csv:2:2 error control-character "Cae\\x00nis" holds the control character \\x00'],
      3,
    ],
    [
      "a terminal escape",
      `${HEADER}S1,\x1b[2JCaenis,3\n`,
      ['s.csv:2:2 error control-character "\\x1b[2JCaenis" holds the control character \\x1b'],
      3,
    ],
    [
      "an unclosed quote",
      `${HEADER}S1,"Caenis,3\nS2,Tubifex,12\n`,
      ["s.csv:2:2 error broken-quoting a quote opens here and is never closed"],
      3,
    ],
    [
      "a header twice",
      "sample_id,taxon,count,count\nS1,Caenis,3,4\n",
      ['s.csv:1:4 error duplicate-header fields 3 and 4 are both called "count"'],
      3,
    ],
    [
      "ragged rows",
      `${HEADER}S1,Caenis\nS2,Tubifex,12,x\n`,
      [
        "s.csv:2:0 error ragged-row the row has 2 cells, the header 3",
        "s.csv:3:0 error ragged-row the row has 4 cells, the header 3",
      ],
      3,
    ],
    [
      "a blank line between rows",
      `${HEADER}S1,Caenis,3\n\nS2,Tubifex,12\n`,
      ["s.csv:3:0 warning blank-rows a blank row was skipped"],
      0,
    ],
    [
      "a header that ends with a delimiter",
      `sample_id,taxon,count,\nS1,Caenis,3,x\n`,
      ["s.csv:1:4 warning nameless-column field 4 has no name in the header and a value in line 2"],
      0,
    ],
    [
      "a count beyond all counts",
      `${HEADER}S1,Caenis,9007199254740993\n`,
      ['s.csv:2:3 error large-count count "9007199254740993" is more than 1000000000'],
      3,
    ],
    ["a blank count", `${HEADER}S1,Caenis,\n`, ["s.csv:2:3 error blank-count the count is blank"], 3],
    [
      "a web page",
      "<html><body>not found</body></html>",
      ["s.csv:0:0 error not-a-table this looks like a web page, not like a table"],
      3,
    ],
    [
      "damaged gzip",
      gzipSync(SHEET).subarray(0, 20),
      ["s.csv:0:0 error bad-gzip the packed file is cut off"],
      3,
    ],
  ])("%s is answered in its own words", (_, content, findings, status) => {
    const result = check("s.csv", content);
    expect(result.findings).toEqual(findings);
    expect(result.status).toBe(status);
    expect(result.stderr).not.toMatch(/^\s+at /m);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: nothing of a file may command the terminal.
    expect(result.stdout + result.stderr).not.toMatch(/[\x00-\x09\x0b-\x1f\x7f]/);
  });

  it("reads the declared encoding that the hint names", () => {
    const latin = Buffer.from(`${HEADER}S1,Caenis,3\nna\xefve,Tubifex,1\n`, "latin1");
    const { status, stdout } = check("s.csv", latin, ["--encoding", "windows-1252"]);
    expect([status, stdout.includes("naïve,,,ready,1,")]).toEqual([0, true]);
  });

  it("refuses an encoding that nobody knows as wrong usage", () => {
    const { status, stdout, stderr } = check("s.csv", SHEET, ["--encoding", "klingon"]);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toContain('"klingon" is not the name of an encoding');
  });

  it("names sheet, row and field of a workbook", () => {
    const bytes = workbook([
      {
        name: "June",
        rows: [
          ["sample_id", "taxon", "count"],
          ["S1", "Caenis", { xml: '<c r="@" t="e"><v>#DIV/0!</v></c>' }],
        ],
      },
    ]);
    const { findings, status } = check("s.xlsx", bytes);
    expect(findings).toEqual(['s.xlsx#June:2:3 error error-cell count "#DIV/0!" is the error of a formula']);
    expect(status).toBe(3);
  });

  it("does not unpack a workbook that would fill the memory", () => {
    const parts = workbookParts([{ name: "June", rows: [["a"]] }]);
    parts["xl/worksheets/sheet1.xml"] = Buffer.alloc(90 * 2 ** 20, " ");
    const start = process.hrtime.bigint();
    const { findings, status } = check("s.xlsx", zipParts(parts));
    expect(findings).toEqual([
      "s.xlsx:0:0 error bad-workbook the workbook cannot be read: a part of it unpacks to more than 200 times its size",
    ]);
    expect(status).toBe(3);
    expect(Number(process.hrtime.bigint() - start) / 1e9).toBeLessThan(20);
  });
});
