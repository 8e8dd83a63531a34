import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { crossTabKind, otherKind, seenKind } from "../../src/sheets/table-kind.ts";

describe("a table", () => {
  it.each([
    ["sample_id,taxon,count,site_id", "bench sheet"],
    ["sample_id,site_id", "sample log"],
    ["sample_id,collected_on,taxon", "sample log"],
    ["sheet_name,accepted_name,note", "list of names"],
    ["sample_id,status,index,reference_set", "table of scores"],
    ["sample_id,metric,value", "table of metric values"],
    ["sample_id,level,grid,picked", "pick log"],
    ["sample_id,sorted_count,recovered_count", "sheet of sorting checks"],
    ["sample_id,taxon,old_count,new_count,reason", "list of amendments"],
    ["taxon,kind,note", "list of taxa to watch for"],
    ["site_id,condition", "table of site conditions"],
    ["sample_id,note", undefined],
    ["sample_id,site_id,count", undefined],
    ["taxon,A,B", undefined],
    ["a,b", undefined],
  ])("with the columns %s is a %s", (columns, kind) => {
    const seen = seenKind(columns.split(","));
    expect(seen?.kind).toBe(kind);
    for (const column of seen?.by ?? []) expect(columns.split(",")).toContain(column);
  });

  it("that has what a log needs is another only when nothing in it is of a log", () => {
    expect(otherKind(["sample_id", "taxon", "count"], "sample log")?.kind).toBe("bench sheet");
    expect(otherKind(["sample_id", "taxon", "count", "site_id"], "sample log")).toBe(undefined);
    expect(otherKind(["sample_id", "note"], "sample log")).toBe(undefined);
    expect(otherKind(["sample_id", "metric", "value"], "bench sheet")).toBe(undefined);
  });
});

describe("a cross-tab of counts", () => {
  it.each([
    ["taxon,U1,U2", "sample log", "bench sheet"],
    ["order,taxon,U1", "sample log", "bench sheet"],
    ["taxon", "sample log", undefined],
    ["taxon,site_id", "sample log", undefined],
    ["taxon,sample_id", "sample log", undefined],
    ["site,U1", "sample log", undefined],
    ["taxon,level", "list of taxa to watch for", undefined],
    ["taxon,U1", undefined, undefined],
  ] as const)("is known by the columns %s in the place of a %s", (columns, wanted, kind) => {
    expect(crossTabKind(columns.split(","), wanted)?.kind).toBe(kind);
  });

  it("given as the log is one finding that says where it belongs", async () => {
    const findings = new FindingCollector();
    const log = await readSampleLog(inputFromBytes("log.csv", "Taxon,U1,U2\nBaetis,3,4\n"), {}, findings);
    expect([log.unreadable, log.samples.size]).toEqual([true, 0]);
    expect(findings.all.map(({ code, message, hint }) => [code, message, hint])).toEqual([
      [
        "wrong-table",
        "this looks like a bench sheet (taxon), and a sample log is wanted here",
        "bench sheets stand behind the name of the command, without an option before them",
      ],
    ]);
  });
});

async function sheetFindings(content: string, name = "s.csv"): Promise<string[]> {
  const findings = new FindingCollector();
  await readBenchSheets([inputFromBytes(name, content)], {}, findings);
  return findings.all.map(({ code, message, hint }) => `${code} ${message} (${hint})`);
}

describe("a header that lacks columns", () => {
  it("is one finding, with the headers that are likely meant", async () => {
    expect(await sheetFindings("Sample No.,Species,N\nA,Baetis,1\n")).toEqual([
      'missing-column there are no columns "sample_id", "taxon" and "count"; the columns are Sample No., Species, N (if these are meant, call "Sample No." sample_id, "Species" taxon and "N" count)',
    ]);
  });

  it("gives each header to one column only", async () => {
    const [found = ""] = await sheetFindings("sample_id,number,total\nA,1,2\n");
    expect(found).toContain('if "number" is meant, call it count');
  });

  it.each([
    ["bars", "sample_id|taxon|count\nA|x|1\n", "parted by bars (|)"],
    ["blanks", "sample_id   taxon   count\nA  x  1\n", "parted by blanks"],
    ["colons", "sample_id:taxon:count\nA:x:1\n", "parted by colons"],
  ])("says that its cells are parted by %s", async (_, content, part) => {
    expect((await sheetFindings(content))[0]).toContain(part);
  });

  it("says that a text is called a workbook", async () => {
    expect((await sheetFindings("junk\n", "s.xlsx"))[0]).toContain(
      "the file is called a workbook and holds text",
    );
    expect((await sheetFindings("junk\n", "s.csv"))[0]).not.toContain("workbook");
  });
});

describe("a table in the place of another", () => {
  it("is recognised among the bench sheets", async () => {
    expect(await sheetFindings("sample_id,site_id,stratum\nA,S,upland\n")).toEqual([
      "wrong-table this looks like a sample log (site_id), and a bench sheet is wanted here (give it with --samples)",
    ]);
  });

  it("is recognised in the place of the log, which is then not read", async () => {
    const findings = new FindingCollector();
    const content = "sample_id,taxon,count\nA,Baetis,1\nA,Caenis,2\n";
    const log = await readSampleLog(inputFromBytes("log.csv", content), {}, findings);
    expect([log.unreadable, log.samples.size]).toEqual([true, 0]);
    expect(findings.all.map(({ code }) => code)).toEqual(["wrong-table"]);
  });
});
