import { deflateRawSync } from "node:zlib";
import { type Zippable, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import { brief, readSheets, readWhole } from "../../helpers/reading.ts";
import { sheetXml, type TestCell, workbook, workbookParts, zipParts } from "../../helpers/workbook.ts";

const HEADER = ["sample_id", "taxon", "count"];
const one = (rows: readonly (readonly TestCell[])[]) => workbook([{ name: "Bench", rows }]);

describe("workbooks", () => {
  it("reads the first sheet that is not hidden, with rows and columns as a spreadsheet counts them", async () => {
    const bytes = workbook([
      { name: "Lists", rows: [["x"]], state: "hidden" },
      { name: "Bench", rows: [[], HEADER, ["S1", "Baetis", 3], [], ["S2", "Simulium", 12]] },
      { name: "Log", rows: [["y"]] },
    ]);
    const { place, header, rows, lines, findings } = await readWhole(inputFromBytes("b.xlsx", bytes));
    expect(place).toBe("b.xlsx#Bench");
    expect(header).toEqual(HEADER);
    expect(rows).toEqual([
      ["S1", "Baetis", "3"],
      ["S2", "Simulium", "12"],
    ]);
    expect(lines).toEqual([3, 5]);
    expect(findings.map(brief)).toEqual(["4:0 warning blank-rows"]);
  });

  it.each(["Log", "log"])("reads the sheet asked for (%s), hidden or not", async (sheet) => {
    const bytes = workbook([
      { name: "Bench", rows: [["x"]] },
      { name: "Log", rows: [["sample_id"], ["S&1"]], state: "veryHidden" },
    ]);
    const { place, rows } = await readWhole(inputFromBytes("b.xlsx", bytes, sheet));
    expect([place, rows]).toEqual(["b.xlsx#Log", [["S&1"]]]);
  });

  it("is known by its content, whatever its name", async () => {
    const { rows } = await readWhole(inputFromBytes("b.csv", one([["a"], ["1"]])));
    expect(rows).toEqual([["1"]]);
  });

  it("writes numbers with the digits they mean, dates as year-month-day, and yes and no as words", async () => {
    const cell = (xml: string): TestCell => ({ xml });
    const bytes = one([
      ["a", "b", "c", "d", "e", "f", "g", "h"],
      [
        cell('<c r="@"><v>9007199254740993</v></c>'),
        cell('<c r="@"><v>0.28999999999999998</v></c>'),
        cell('<c r="@"><v>1.2E3</v></c>'),
        // Day 45450 of the 1900 system is 2024-06-07: day 1 is 1900-01-01 and 1900-02-29 counts.
        cell('<c r="@" s="1"><v>45450</v></c>'),
        cell('<c r="@" s="1"><v>45450.75</v></c>'),
        cell('<c r="@" t="b"><v>1</v></c>'),
        " kept ",
        cell('<c r="@"><v>12.5</v></c>'),
      ],
    ]);
    expect((await readWhole(bytes)).rows).toEqual([
      ["9007199254740993", "0.29", "1200", "2024-06-07", "2024-06-07T18:00:00", "TRUE", " kept ", "12.5"],
    ]);
  });

  it("refuses a date that a spreadsheet made of a count", async () => {
    const { findings, refused } = await readSheets([
      inputFromBytes("b.xlsx", one([HEADER, ["S1", "Baetis", { xml: '<c r="@" s="1"><v>45294</v></c>' }]])),
    ]);
    expect(findings.map((found) => `${found.file}:${brief(found)} ${found.message}`)).toEqual([
      'b.xlsx#Bench:2:3 error bad-count count "2024-01-03" is a date; a spreadsheet program may have changed the number',
    ]);
    expect(refused).toEqual({ S1: ["bad-count"] });
  });

  it("refuses error cells where they are used and passes over them where they are not", async () => {
    const error = { xml: '<c r="@" t="e"><f>1/0</f><v>#DIV/0!</v></c>' };
    const { findings, refused, rows } = await readSheets([
      inputFromBytes(
        "b.xlsx",
        one([
          [...HEADER, "share"],
          ["S1", "Baetis", error, "x"],
          ["S2", { xml: '<c r="@" t="e"><v>#N/A</v></c>' }, 3, "x"],
          ["S3", "Baetis", 4, error],
        ]),
      ),
    ]);
    expect(findings.map((found) => `${found.file}:${brief(found)}`)).toEqual([
      "b.xlsx#Bench:2:3 note formula-cell",
      "b.xlsx#Bench:2:3 error error-cell",
      "b.xlsx#Bench:3:2 error error-cell",
    ]);
    expect(refused).toEqual({ S1: ["error-cell"], S2: ["error-cell"] });
    expect(rows).toEqual(["S3|Baetis|4|unknown"]);
  });

  it("uses the last values of formulas with a note, and refuses formulas that have none", async () => {
    const solved = await readSheets([
      one([HEADER, ["S1", "Baetis", { xml: '<c r="@"><f>SUM(A1:A9)</f><v>7</v></c>' }]]),
    ]);
    expect(solved.rows).toEqual(["S1|Baetis|7|unknown"]);
    expect(solved.findings.map((found) => `${brief(found)} ${found.message}`)).toEqual([
      "2:3 note formula-cell a cell holds a formula, the first is C2",
    ]);
    // As some programs write it, a cross-tab of formulas would read as a sheet of blanks.
    const unsolved = await readSheets([
      one([
        ["taxon", "S1"],
        ["Baetis", { xml: '<c r="@"><f>B9</f></c>' }],
        ["Simulium", 2],
      ]),
    ]);
    expect(unsolved.sheets.unreadable).toBe(true);
    expect(unsolved.findings.map((found) => `${brief(found)} ${found.message}`)).toEqual([
      "2:2 error unsolved-formula a cell holds a formula without a value, the first is B2",
    ]);
  });

  it("reads shared strings", async () => {
    const parts = workbookParts([{ name: "Bench", rows: [["a"], [{ xml: '<c r="@" t="s"><v>1</v></c>' }]] }]);
    const text = (path: string) => new TextDecoder().decode(parts[path]);
    parts["xl/sharedStrings.xml"] = new TextEncoder().encode(
      "<sst><si><t>zero</t></si><si><t>one</t></si></sst>",
    );
    parts["xl/_rels/workbook.xml.rels"] = new TextEncoder().encode(
      text("xl/_rels/workbook.xml.rels").replace(
        "</Relationships>",
        '<Relationship Id="rIdT" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>',
      ),
    );
    expect((await readWhole(zipParts(parts))).rows).toEqual([["one"]]);
  });

  it.each([
    [
      "no such sheet",
      inputFromBytes("b.xlsx", one([["a"]]), "June"),
      'there is no sheet "June"; the sheets are Bench',
    ],
    [
      "an archive of another kind",
      zipParts({ "readme.txt": new Uint8Array(9) }),
      "it is an archive of another kind",
    ],
    ["a workbook cut off", one([["a"]]).subarray(0, 900), "it is cut off or damaged"],
    [
      "a sheet that spans far",
      one([["a"], [{ xml: '<c r="XFD1048576"><v>1</v></c>' }]]),
      "its cells reach to row 1048576 and field 16384; save the sheet as CSV",
    ],
    [
      "a sheet of more rows than a spreadsheet is good for",
      one([["a"], [{ xml: '<c r="A200001"><v>1</v></c>' }]]),
      "its cells reach to row 200001 and field 1; save the sheet as CSV",
    ],
  ])("refuses %s and says why", async (_, content, why) => {
    const { findings, isBroken } = await readWhole(content);
    expect(findings.map((found) => `${found.code} ${found.message}`)).toEqual([
      `bad-workbook the workbook cannot be read: ${why}`,
    ]);
    expect(isBroken).toBe(true);
  });

  it("reads archives with fields of their own beside the files, and a remark at the end", async () => {
    const parts = workbookParts([{ name: "Bench", rows: [["a"], ["1"]] }]);
    const extra = { 4660: new Uint8Array(300) };
    const files: Zippable = Object.fromEntries(
      Object.entries(parts).map(([path, content]) => [path, [content, { extra, comment: "x".repeat(300) }]]),
    );
    const archive = Buffer.concat([zipSync(files), Buffer.from("a remark")]);
    archive.writeUInt16LE(8, archive.length - 10);
    expect((await readWhole(archive)).rows).toEqual([["1"]]);
  });

  it("says that a sheet is empty", async () => {
    const { findings } = await readWhole(one([]));
    expect(findings.map(brief)).toEqual(["0:0 error empty-file"]);
  });

  it("answers every damaged byte with a finding or the right rows, never an exception", async () => {
    const bytes = one([HEADER, ["S1", "Baetis", 3]]);
    let refused = 0;
    for (let at = 0; at < bytes.length; at++) {
      const damaged = bytes.slice();
      damaged[at] = (damaged[at] ?? 0) ^ 0x41;
      const { findings, isBroken, rows } = await readWhole(damaged);
      if (isBroken) {
        refused++;
        expect(findings.length).toBeGreaterThan(0);
      } else expect(rows).toEqual([["S1", "Baetis", "3"]]);
    }
    expect(refused).toBeGreaterThan(bytes.length / 2);
  });
});

describe("size guards of workbooks", () => {
  /** An archive in which one part claims a size of its own choosing. */
  function withClaimedSize(content: Uint8Array, claimed: number): Uint8Array {
    const parts = workbookParts([{ name: "Bench", rows: [["a"]] }]);
    parts["xl/worksheets/sheet1.xml"] = content;
    const archive = Buffer.from(zipParts(parts));
    const name = Buffer.from("xl/worksheets/sheet1.xml");
    const entry = archive.lastIndexOf(name) - 46;
    archive.writeUInt32LE(claimed, entry + 24);
    return archive;
  }

  const bomb = Buffer.from(
    sheetXml([["a"]]).replace("<sheetData>", `<sheetData>${" ".repeat(40 * 2 ** 20)}`),
  );

  it("refuses a part that unpacks to many times its size before unpacking it", async () => {
    const parts = workbookParts([{ name: "Bench", rows: [["a"]] }]);
    parts["xl/worksheets/sheet1.xml"] = bomb;
    const packed = zipParts(parts);
    expect(packed.length).toBeLessThan(2 ** 17);
    const start = process.hrtime.bigint();
    const { findings } = await readWhole(packed);
    expect(Number(process.hrtime.bigint() - start) / 1e6).toBeLessThan(1000);
    expect(findings.map((found) => found.message)).toEqual([
      "the workbook cannot be read: a part of it unpacks to more than 200 times its size",
    ]);
  });

  it("stops at the size that a part claims when it lies", async () => {
    expect(deflateRawSync(bomb).length).toBeLessThan(2 ** 17);
    const { findings } = await readWhole(withClaimedSize(bomb, 1000));
    expect(findings.map((found) => found.message)).toEqual([
      "the workbook cannot be read: its part xl/worksheets/sheet1.xml is damaged",
    ]);
  });

  it("adds up the parts", async () => {
    const parts = workbookParts([{ name: "Bench", rows: [["a"]] }]);
    // Text that packs to about a hundredth, so that the ratio alone does not refuse it.
    let x = 1;
    const line = () => {
      x = (x * 48271) % 2147483647;
      return `<!--${x}${" ".repeat(900)}-->`;
    };
    const filler = Array.from({ length: 40_000 }, line).join("");
    for (const name of ["sharedStrings", "sharedStrings2", "sharedStrings3"])
      parts[`xl/${name}.xml`] = new TextEncoder().encode(`<sst>${filler}</sst>`);
    const { findings } = await readWhole(zipParts(parts));
    expect(findings.map((found) => found.message)).toEqual([
      "the workbook cannot be read: it unpacks to more than 100 MiB; save the sheet as CSV",
    ]);
  });

  it("refuses two parts of one name, which readers understand differently", async () => {
    const parts = workbookParts([{ name: "Bench", rows: [["a"], ["1"]] }]);
    parts["xl/strings1.xml"] = new TextEncoder().encode("<sst/>");
    parts["xl/strings2.xml"] = new TextEncoder().encode("<sst/>");
    const archive = Buffer.from(zipParts(parts));
    Buffer.from("xl/strings1.xml").copy(archive, archive.lastIndexOf("xl/strings2.xml"));
    const { findings } = await readWhole(archive);
    expect(findings.map((found) => found.message)).toEqual([
      "the workbook cannot be read: it has two parts called xl/strings1.xml",
    ]);
  });
});
