import { describe, expect, it } from "vitest";
import { ROW_FLAGS } from "../../src/model/rows.ts";
import { brief, readSheets } from "../helpers/reading.ts";

const told = (findings: Awaited<ReturnType<typeof readSheets>>["findings"]) =>
  findings.map((found) => `${brief(found)} ${found.message}`);

describe("long bench sheets", () => {
  it("reads rows with their positions, whatever the order and the spelling of the columns", async () => {
    const { sheets, rows, findings } = await readSheets([
      "Count,Life Stage,SAMPLE-ID,site,Taxon\n3,L,S1,x,Baetis\n0,adult,S2,x,Elmidae\n",
    ]);
    expect(rows).toEqual(["S1|Baetis|3|larva", "S2|Elmidae|0|adult"]);
    expect([sheets.table.lineAt(1), sheets.table.columnAt(1), sheets.table.nameColumnAt(1)]).toEqual([
      3, 1, 5,
    ]);
    expect(findings).toEqual([]);
    expect(sheets.digests).toMatchObject([{ file: "a.csv", rows: 2, bytes: 75 }]);
  });

  it("reads all facts of a row", async () => {
    const columns = {
      sample_id: "S1",
      taxon: "Pacifastacus",
      count: "5",
      grid: "12",
      container: "1 of 2",
      part: "Large/Rare",
      distinct: "Y",
      number_of_taxa: "2",
      disposition: "released",
      condition: "early instar",
      count_basis: "expanded",
      tray_level: "2",
      mount_fraction: "1/4",
      identified_by: "TRV",
      identified_on: "2024-06-07",
      certainty: "4",
      reason: "no claws",
      slide_or_vial: "V7",
      note: "a, b",
    };
    const text = `${Object.keys(columns).join(",")}\n${Object.values(columns)
      .map((cell) => `"${cell}"`)
      .join(",")}\n`;
    const { sheets, findings } = await readSheets([text]);
    expect(findings).toEqual([]);
    expect(sheets.table.flagsAt(0)).toBe(
      ROW_FLAGS.largeRare | ROW_FLAGS.distinctYes | ROW_FLAGS.released | ROW_FLAGS.expanded,
    );
    expect(sheets.table.rareAt(0)).toEqual({
      grid: "12",
      container: "1 of 2",
      numberOfTaxa: 2,
      condition: "early instar",
      trayLevel: "2",
      mountFraction: "1/4",
      identifiedBy: "TRV",
      identifiedOn: "2024-06-07",
      certainty: 4,
      reason: "no claws",
      slideOrVial: "V7",
      note: "a, b",
    });
  });

  it("keeps no facts for usual words and empty cells", async () => {
    const { sheets } = await readSheets([
      "sample_id,taxon,count,part,distinct,disposition,count_basis,number_of_taxa,note\nS1,Baetis,3,main,no,kept,counted,1,\n",
    ]);
    expect([sheets.table.flagsAt(0), sheets.table.rareAt(0)]).toEqual([ROW_FLAGS.distinctNo, undefined]);
  });

  it.each([
    ["life_stage", "Q", "unknown-life-stage", 'life stage "Q" is not known'],
    ["part", "rare", "bad-value", 'part "rare" cannot be used'],
    ["distinct", "maybe", "bad-value", 'distinct "maybe" cannot be used'],
    ["disposition", "eaten", "bad-value", 'disposition "eaten" cannot be used'],
    ["count_basis", "guessed", "bad-value", 'count_basis "guessed" cannot be used'],
    ["number_of_taxa", "0", "bad-value", 'number_of_taxa "0" cannot be used'],
    ["number_of_taxa", "4", "bad-value", "number_of_taxa is 4, more than the animals of the row (3)"],
    ["mount_fraction", "2", "bad-value", 'mount_fraction "2" cannot be used'],
  ])("refuses a sample whose %s is %j", async (column, cell, code, message) => {
    const { findings, refused, sheets } = await readSheets([
      `sample_id,taxon,count,${column}\nS1,Baetis,3,${cell}\nS2,Baetis,3,\n`,
    ]);
    expect(
      findings.map((found) => [found.code, found.severity, found.message, found.sampleId, found.line]),
    ).toEqual([[code, "error", message, "S1", 2]]);
    expect(refused).toEqual({ S1: [code] });
    expect([sheets.unreadable, sheets.table.samples.texts]).toEqual([false, ["S1", "S2"]]);
  });

  it("warns of facts that change nothing and does not refuse", async () => {
    const { findings, refused } = await readSheets([
      "sample_id,taxon,count,identified_on,certainty,reason\nS1,Baetis,3,7/6/24,,\nS1,Caenis,3,,9,\nS1,Nais,3,,3,\nS1,Tubifex,3,,3,damaged\n",
    ]);
    expect(told(findings)).toEqual([
      '2:4 warning odd-value identified_on "7/6/24" is no date',
      '3:5 warning odd-value certainty "9" cannot be used',
      "4:3 note doubtful-identification certainty 3 is given without a reason",
    ]);
    expect(refused).toEqual({});
  });

  it("reports every fault, refuses the samples they are in and keeps the others", async () => {
    const { findings, refused, rows, sheets } = await readSheets([
      "sample_id,taxon,count,life_stage\nS1,Baetis,x,Q\nS1,,3,\nS2,Caenis,1,\nS3,Nais,,\n",
    ]);
    expect(told(findings)).toEqual([
      '2:3 error bad-count count "x" says that animals were there, not how many',
      '2:4 error unknown-life-stage life stage "Q" is not known',
      "3:2 error missing-taxon the row has no taxon",
      "5:3 error blank-count the count is blank",
    ]);
    expect(refused).toEqual({
      S1: ["bad-count", "unknown-life-stage", "missing-taxon"],
      S3: ["blank-count"],
    });
    expect(rows).toEqual(["S2|Caenis|1|unknown"]);
    expect(sheets.table.samples.texts).toEqual(["S1", "S2", "S3"]);
    expect(sheets.unreadable).toBe(false);
  });

  it.each([
    [
      "a row without a sample id",
      "sample_id,taxon,count\nS1,Baetis,3\n ,Caenis,x\n,Nais,0\n",
      [
        "3:1 error missing-sample-id the row has no sample id",
        '3:3 error bad-count count "x" says that animals were there, not how many',
        "4:1 error missing-sample-id the row has no sample id",
      ],
    ],
    [
      "a missing column",
      "sample_id,taxon,number\nS1,Baetis,3\n",
      ['1:0 error missing-column there is no column "count"; the columns are sample_id, taxon, number'],
    ],
    [
      "several missing columns",
      "a,b\n1,2\n",
      [
        '1:0 error missing-column there are no columns "sample_id", "taxon" and "count"; the columns are a, b',
      ],
    ],
    [
      "a column that stands twice",
      "sample_id,taxon,count,Count\nS1,Baetis,3,4\n",
      ['1:4 error duplicate-header fields 3 and 4 are both called "Count"'],
    ],
    [
      "a control character in a sample id",
      "sample_id,taxon,count\nS\u00001,Baetis,3\n",
      ['2:1 error control-character "S\\x001" holds the control character \\x00'],
    ],
    [
      "a formula error for a sample id",
      "sample_id,taxon,count\n#REF!,Baetis,3\n",
      ['2:1 error error-cell "#REF!" is the error of a formula'],
    ],
    [
      "a control character in the header",
      "sample_id,taxon,count,no\u0001te\nS1,Baetis,3,\n",
      ['1:4 error control-character header "no\\x01te" holds the control character \\x01'],
    ],
    [
      "an unclosed quote",
      'sample_id,taxon,count\nS1,"Baetis,3\nS2,Caenis,1\n',
      ["2:2 error broken-quoting a quote opens here and is never closed"],
    ],
    [
      "a row with a cell too many when the id is not first",
      "taxon,sample_id,count\nBaetis, sp.,S1,3\n",
      ["2:0 error ragged-row the row has 4 cells, the header 3"],
    ],
  ])("refuses the run for %s", async (_, text, expected) => {
    const { sheets, findings } = await readSheets([text]);
    expect(told(findings)).toEqual(expected);
    expect(sheets.unreadable).toBe(true);
  });

  it("points at the header that is likely meant", async () => {
    const { findings } = await readSheets(["smaple_id,taxon,count\nS1,Baetis,3\n"]);
    expect(findings.map((found) => found.hint)).toEqual(['if "smaple_id" is meant, call it sample_id']);
  });

  it.each([
    ["sample_id,taxon,count\nS1,Baetis,3\n", 3],
    ["taxon,S1,S2\nBaetis,3,4\n", 3],
  ])("points at a header below a title (%j)", async (sheet, line) => {
    const { findings, sheets } = await readSheets([`Vennaloo survey 2024,,\nspring,,\n${sheet}`]);
    expect(sheets.unreadable).toBe(true);
    expect([...new Set(findings.map((found) => found.hint))]).toEqual([
      `line ${line} looks like the header; delete the lines above it`,
    ]);
  });

  it("does not take a row that holds the word taxon alone for a header", async () => {
    const { findings } = await readSheets(["a,b,c\ntaxon,,\n1,2,3\n"]);
    expect(findings.every((found) => !found.hint.includes("looks like the header"))).toBe(true);
  });

  it("warns of sample ids that differ in case and separators only", async () => {
    const { findings, refused } = await readSheets([
      "sample_id,taxon,count\nVN-03,Baetis,3\nVN-04,Baetis,3\nvn 03,Nais,1\nVN-3,Nais,1\n",
    ]);
    expect(told(findings)).toEqual([
      '4:0 warning look-alike-samples the sample ids "vn 03" and "VN-03" may be one sample',
    ]);
    expect(refused).toEqual({});
  });

  it("reports all ragged rows, refuses their samples, and lets blank cells beyond the header pass", async () => {
    const { findings, refused, rows } = await readSheets([
      "sample_id,taxon,count\nS1,Baetis,3,,\nS2,Caenis\nS3,Nais,communis,4\nS4,Tubifex,1\n",
    ]);
    expect(told(findings)).toEqual([
      "3:0 error ragged-row the row has 2 cells, the header 3",
      "4:0 error ragged-row the row has 4 cells, the header 3",
    ]);
    expect(refused).toEqual({ S2: ["ragged-row"], S3: ["ragged-row"] });
    expect(rows).toEqual(["S1|Baetis|3|unknown", "S4|Tubifex|1|unknown"]);
  });

  it("keeps other columns out of the way, and says when one without a name holds something", async () => {
    const { findings, rows } = await readSheets([
      "sample_id,taxon,count,x,x,,\nS1,Baetis,3,a\u0000,#N/A,,\nS1,Caenis,1,a,b,lost,\n",
    ]);
    expect(told(findings)).toEqual([
      '1:5 warning duplicate-header fields 4 and 5 are both called "x"',
      "1:6 warning nameless-column field 6 has no name in the header and a value in line 3",
    ]);
    expect(rows).toEqual(["S1|Baetis|3|unknown", "S1|Caenis|1|unknown"]);
  });

  it("notes white space at the ends of headers, and takes it off names and ids", async () => {
    const { findings, rows } = await readSheets([
      "sample_id, taxon , count\n S1 , Baetis  tricaudatus,3\nS1,Cafe\u0301a,1\nS1,\u00a0Nais\u00a0communis\u00a0,2\n",
    ]);
    expect(told(findings)).toEqual([
      '1:2 note padded-header 2 headers have white space at their ends, the first is " taxon "',
    ]);
    // Decomposed letters are composed (NFC), no-break blanks are blanks.
    expect(rows).toEqual([
      "S1|Baetis tricaudatus|3|unknown",
      "S1|Caf\u00e9a|1|unknown",
      "S1|Nais communis|2|unknown",
    ]);
  });

  it("drops characters that cannot be seen, with a warning for each text that had them", async () => {
    const { findings, rows } = await readSheets([
      "sample_id,taxon,count\nS1,Bae\u200btis,3\nS\u20601,Bae\u200btis,4\nS1,Caenis,1\n",
    ]);
    expect(told(findings.filter((found) => found.code !== "repeated-taxon"))).toEqual([
      '2:2 warning invisible-character "Bae\\u200btis" holds characters that cannot be seen',
      '3:1 warning invisible-character "S\\u20601" holds characters that cannot be seen',
    ]);
    expect(rows).toEqual(["S1|Baetis|3|unknown", "S1|Baetis|4|unknown", "S1|Caenis|1|unknown"]);
  });

  it("refuses a sample for a control character in a name, shown so that no terminal obeys it", async () => {
    const { findings, refused } = await readSheets([
      "sample_id,taxon,count\nS1,Bae\u001b[2Jtis,3\nS2,Nais,1\n",
    ]);
    expect(told(findings)).toEqual([
      '2:2 error control-character "Bae\\x1b[2Jtis" holds the control character \\x1b',
    ]);
    expect(refused).toEqual({ S1: ["control-character"] });
  });

  it("counts taxa and samples called as the language calls its own things", async () => {
    const names = ["__proto__", "constructor", "toString", "hasOwnProperty"];
    const { rows } = await readSheets([
      `sample_id,taxon,count\n${names.map((name) => `${name},${name},1`).join("\n")}\n`,
    ]);
    expect(rows).toEqual(names.map((name) => `${name}|${name}|1|unknown`));
    expect(({} as { x?: number }).x).toBe(undefined);
  });

  it.each([
    "part,large-rare",
    "disposition,released",
    "grid,7",
    "tray_level,2",
    "slide_or_vial,V1",
    "condition,damaged",
    "number_of_taxa,2",
  ])("does not take rows for repeats that %s tells apart", async (fact) => {
    const [column, value] = fact.split(",");
    const { findings } = await readSheets([
      `sample_id,taxon,count,${column}\nS1,Baetis,3,\nS1,Baetis,4,${value}\n`,
    ]);
    expect(findings).toEqual([]);
  });

  it("notes a name that stands twice unless something tells the rows apart", async () => {
    const { findings } = await readSheets([
      "sample_id,taxon,count,life_stage,container\nS1,Baetis,3,L,1\nS1,Baetis,4,L,2\nS1,Baetis,1,P,1\nS1,Baetis,2,L,1\nS1,Baetis,9,L,1\nS2,Baetis,1,L,1\n",
    ]);
    expect(told(findings)).toEqual([
      '5:2 note repeated-taxon "Baetis" stands in line 2 already; the counts are summed',
    ]);
  });
});
