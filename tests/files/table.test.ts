import { createHash } from "node:crypto";
import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { openTable } from "../../src/files/table.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { brief, inPieces, readWhole } from "../helpers/reading.ts";

const TEXT = "sample_id,taxon,count\nS1,Baétis,3\nS2,\u5ddd,4\n";
const HEADER = ["sample_id", "taxon", "count"];
const ROWS = [
  ["S1", "Baétis", "3"],
  ["S2", "\u5ddd", "4"],
];

function utf16(text: string, order: "le" | "be", mark: boolean): Uint8Array {
  const bytes = Buffer.from(mark ? `\ufeff${text}` : text, "utf16le");
  return order === "le" ? bytes : bytes.swap16();
}

describe("opening tables", () => {
  it.each([
    ["UTF-8", Buffer.from(TEXT)],
    ["UTF-8 with a mark", Buffer.from(`\ufeff${TEXT}`)],
    ["UTF-16LE with a mark", utf16(TEXT, "le", true)],
    ["UTF-16BE with a mark", utf16(TEXT, "be", true)],
    ["CRLF", Buffer.from(TEXT.replaceAll("\n", "\r\n"))],
    ["lone CR", Buffer.from(TEXT.replaceAll("\n", "\r"))],
    ["mixed line ends", Buffer.from("sample_id,taxon,count\r\nS1,Baétis,3\rS2,\u5ddd,4\n")],
    ["no line end at the end", Buffer.from(TEXT.trimEnd())],
    ["semicolons", Buffer.from(TEXT.replaceAll(",", ";"))],
    ["tabs", Buffer.from(TEXT.replaceAll(",", "\t"))],
    ["a first line sep=;", Buffer.from(`sep=;\r\n${TEXT.replaceAll(",", ";")}`)],
    ["blank lines at both ends", Buffer.from(`\n\n${TEXT}\n,,\n\n`)],
    ["gzip", gzipSync(TEXT)],
    ["two gzip members", Buffer.concat([gzipSync(TEXT.slice(0, 30)), gzipSync(TEXT.slice(30))])],
  ])("reads %s to the same rows, in pieces of any size", async (_, bytes) => {
    for (const size of [1, 2, 3, 7, bytes.length]) {
      const { header, rows, isBroken, findings } = await readWhole(inPieces(bytes, size));
      expect({ header, rows, isBroken, findings }).toEqual({
        header: HEADER,
        rows: ROWS,
        isBroken: false,
        findings: [],
      });
    }
  });

  it("looks for delimiter and header in the same text, in whatever pieces the bytes come", async () => {
    const rows = Array.from(
      { length: 2000 },
      (_, at) => `S${at},Baétis;${";".repeat(at > 1000 ? 9 : 0)},3\n`,
    );
    for (const text of [`Survey 2024\n\nsample_id,taxon,count\n${rows.join("")}`, rows.join("")]) {
      const bytes = Buffer.from(text);
      const seen = new Set<string>();
      for (const size of [64, 1000, 20_000, bytes.length]) {
        const table = await openTable(inPieces(bytes, size), {}, new FindingCollector());
        seen.add(JSON.stringify([table.header, table.ahead]));
        await table.digest();
      }
      expect(seen.size).toBe(1);
      expect([...seen][0]).toContain("S500");
    }
  });

  it("gives the digest of the bytes as they lie on the disk", async () => {
    const bytes = gzipSync(TEXT);
    const { sha256 } = await readWhole(inPieces(bytes, 5));
    expect(sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
  });

  it.each([
    ["0 bytes", "", "0:0 error empty-file", "the file is empty"],
    ["only a mark", "\ufeff", "0:0 error empty-file", "the file holds nothing but a mark"],
    ["only blank lines", "\n \n,,\n", "0:0 error empty-file", "the file holds only blank lines"],
    ["a header alone", "a,b\n", "1:0 warning no-rows", "there is a header and no row below it"],
    [
      "a web page",
      "<!DOCTYPE html><html></html>",
      "0:0 error not-a-table",
      "this looks like a web page, not like a table",
    ],
    [
      "XML",
      '<?xml version="1.0"?><a/>',
      "0:0 error not-a-table",
      "this looks like an XML document, not like a table",
    ],
    ["JSON", '[\n {"a": 1}]', "0:0 error not-a-table", "this looks like JSON, not like a table"],
    ["a PDF", "%PDF-1.7\n", "0:0 error not-a-table", "this looks like a PDF document, not like a table"],
    [
      "a picture",
      Buffer.from("89504e470d0a1a0a", "hex"),
      "0:0 error not-a-table",
      "this looks like a PNG image, not like a table",
    ],
    [
      "an old workbook",
      Buffer.from("d0cf11e0a1b11ae1", "hex"),
      "0:0 error not-a-table",
      "this looks like a workbook in the old .xls format, not like a table",
    ],
    [
      "gzip in gzip",
      gzipSync(gzipSync(TEXT)),
      "0:0 error not-a-table",
      "this looks like a file packed with gzip twice",
    ],
    [
      "damaged gzip",
      Buffer.concat([gzipSync(TEXT).subarray(0, 12), Buffer.from("junk")]),
      "0:0 error bad-gzip",
      undefined,
    ],
    ["gzip cut off", gzipSync(TEXT).subarray(0, 30), "0:0 error bad-gzip", "the packed file is cut off"],
  ])("answers %s in its own way", async (_, content, place, message) => {
    const { findings, isBroken } = await readWhole(content);
    expect(findings.map(brief)).toEqual([place]);
    if (message !== undefined) expect(findings[0]?.message).toBe(message);
    expect(isBroken).toBe(place.includes("error"));
  });

  it("tells where a packed file is cut off when rows came out of it before", async () => {
    // Numbers that do not pack well, so that there is something to cut.
    let text = "a,b\n";
    for (let n = 1, x = 1; n < 90_000; n++) {
      x = (x * 48271) % 2147483647;
      text += `${x},${n}\n`;
    }
    const packed = gzipSync(text);
    const { rows, findings, isBroken } = await readWhole(packed.subarray(0, packed.length - 1000));
    expect(rows.length).toBeGreaterThan(1000);
    expect(isBroken).toBe(true);
    expect(findings.map((one) => [one.code, one.line > rows.length])).toEqual([["bad-gzip", true]]);
  });

  it("names the line and field of a byte that is not UTF-8, and reads on", async () => {
    const bytes = Buffer.from('a,b,c\n1,"x\ny",Bae\xe9tis\n2,,\n', "latin1");
    const { rows, findings, isBroken } = await readWhole(bytes);
    expect(findings.map((one) => `${brief(one)} ${one.message}`)).toEqual([
      "3:3 error bad-encoding byte 0xE9 is not UTF-8",
    ]);
    expect(findings[0]?.hint).toContain("--encoding");
    expect([rows.length, isBroken]).toEqual([2, true]);
  });

  it("takes a declared encoding, over which a byte order mark wins", async () => {
    const latin = Buffer.from("a,b\nna\xefve,2\n", "latin1");
    expect((await readWhole(latin, "windows-1252")).rows).toEqual([["naïve", "2"]]);
    expect((await readWhole(Buffer.from("\ufeffa,b\nnaïve,2\n"), "windows-1252")).rows).toEqual([
      ["naïve", "2"],
    ]);
  });

  it.each([
    ["le", "utf-16le"],
    ["be", "utf-16be"],
  ] as const)(
    "sees UTF-16%s without a mark, says so, and reads it when it is declared",
    async (order, encoding) => {
      const bytes = utf16(TEXT, order, false);
      const { findings } = await readWhole(bytes);
      expect(findings.map((one) => `${brief(one)} ${one.message}`)).toEqual([
        "0:0 error bad-encoding this looks like UTF-16 without a byte order mark",
      ]);
      expect(findings[0]?.hint).toContain(`--encoding ${encoding}`);
      expect((await readWhole(bytes, encoding)).rows).toEqual(ROWS);
    },
  );

  it("skips blank rows between others with one warning for the file", async () => {
    const { rows, lines, findings } = await readWhole("a,b\n1,2\n\n\u00a0,\n3,4\n \t\n5,6\n\n\n");
    expect(rows).toEqual([
      ["1", "2"],
      ["3", "4"],
      ["5", "6"],
    ]);
    expect(lines).toEqual([2, 5, 7]);
    expect(findings.map((one) => `${brief(one)} ${one.message}`)).toEqual([
      "3:0 warning blank-rows 3 blank rows were skipped",
    ]);
  });

  it("knows the line of every row when cells hold line breaks, in the header too", async () => {
    const { header, lines } = await readWhole('"a\nb",c\n"1\n2",3\n4,"5"\n6,7\n');
    expect([header, lines]).toEqual([
      ["a b", "c"],
      [3, 5, 6],
    ]);
  });

  it("names the opening line of a quote that is never closed and keeps the rows before it", async () => {
    const { rows, findings, isBroken } = await readWhole('a,b\n1,2\n3,"4\n5,6\n');
    expect(rows).toEqual([["1", "2"]]);
    expect(isBroken).toBe(true);
    expect(findings.map((one) => `${brief(one)} ${one.message}`)).toEqual([
      "3:2 error broken-quoting a quote opens here and is never closed",
    ]);
  });

  it("never fails on any bytes", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ maxLength: 300 }),
        fc.integer({ min: 1, max: 50 }),
        async (bytes, size) => {
          const { findings, header, isBroken } = await readWhole(inPieces(bytes, size));
          if (header.length === 0) expect(isBroken && findings.length > 0).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});
