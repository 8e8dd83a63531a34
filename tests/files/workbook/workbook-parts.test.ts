import { describe, expect, it } from "vitest";
import { sheetParts } from "../../../src/files/workbook/workbook-parts.ts";

// ECMA-376 part 1, 18.2.19, 18.2.20 and part 2, 8.5 (relationships), as recalled.
const TYPE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const RELATIONSHIPS = `<Relationships>
  <Relationship Id="r1" Type="${TYPE}/worksheet" Target="worksheets/sheet1.xml"/>
  <Relationship Target='/xl/worksheets/sheet2.xml' Type='${TYPE}/worksheet' Id='r2'/>
  <Relationship Id="r3" Type="${TYPE}/chartsheet" Target="chartsheets/sheet1.xml"/>
  <Relationship Id="r4" Target="worksheets/sheet9.xml"/>
  <Relationship Id="r5" Type="${TYPE}/worksheet"/>
</Relationships>`;
const workbook = (...sheets: readonly string[]) =>
  `<x:workbook><x:sheets>${sheets.join("")}</x:sheets></x:workbook>`;

describe("the sheets of a workbook", () => {
  it("stand in the order of their tabs, with the place of each in the archive", () => {
    const text = workbook(
      '<x:sheet name="Second" sheetId="2" r:id="r2"/>',
      '<x:sheet name="First" sheetId="1" r:id="r1"/>',
    );
    expect(sheetParts(text, RELATIONSHIPS)).toEqual([
      // A target that begins with a slash is one from the root of the archive.
      { name: "Second", isHidden: false, path: "xl/worksheets/sheet2.xml" },
      { name: "First", isHidden: false, path: "xl/worksheets/sheet1.xml" },
    ]);
  });

  it("may be hidden, in two ways", () => {
    const states = ["visible", "hidden", "veryHidden"].map(
      (state) => `<sheet name="S" state="${state}" r:id="r1"/>`,
    );
    expect(sheetParts(workbook(...states), RELATIONSHIPS).map(({ isHidden }) => isHidden)).toEqual([
      false,
      true,
      true,
    ]);
  });

  it("are no table where they are a chart, or where nothing says what they are", () => {
    const text = workbook(
      ...["r3", "r4", "r9"].map((id) => `<sheet name="S" r:id="${id}"/>`),
      '<sheet name="S"/>',
    );
    expect(sheetParts(text, RELATIONSHIPS).map(({ path }) => path)).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });

  it("have names with characters that XML writes otherwise, by word or by number", () => {
    const names = ["A &amp; B", "&lt;5 mm&gt;", "O&apos;Neill &quot;x&quot;", "&#233;t&#xE9;", "&#x1F41B;"];
    const text = workbook(...names.map((name) => `<sheet name="${name}" r:id="r1"/>`));
    expect(sheetParts(text, RELATIONSHIPS).map(({ name }) => name)).toEqual([
      "A & B",
      "<5 mm>",
      'O\'Neill "x"',
      "été",
      "🐛",
    ]);
  });

  it("keep what is no character as it is written, and may have no name at all", () => {
    const text = workbook(
      '<sheet name="&#x110000; &LT; &nbsp;" r:id="r1"/>',
      '<sheet r:id="r1"/>',
      "<sheet name='' r:id='r1'/>",
    );
    expect(sheetParts(text, RELATIONSHIPS).map(({ name }) => name)).toEqual([
      "&#x110000; &LT; &nbsp;",
      "",
      "",
    ]);
  });
});
