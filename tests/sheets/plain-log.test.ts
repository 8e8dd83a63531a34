import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FindingCollector } from "../../src/findings/collector.ts";
import { PlainLog } from "../../src/sheets/plain-log.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { inPieces } from "../helpers/reading.ts";

const HEADER = "site_id,sample_id,collected_on,,fraction_sorted,Shade Percent,note";
/** The first lines of a text are always read with care; behind these the quick way begins. */
const FIRST = Array.from({ length: 70 }, (_, at) => `P,A${at},2024-06-07,,0.5,3,${"x".repeat(250)}`);

/** What a log says, as a value that tests can compare. */
async function readLog(bytes: Uint8Array, piece: number) {
  const findings = new FindingCollector();
  const log = await readSampleLog(inPieces(bytes, piece), {}, findings);
  return {
    samples: [...log.samples.values()].map(({ sampleId, line, file, texts, columns }) => ({
      sampleId,
      line,
      file,
      texts: [...texts],
      columns: [...columns],
    })),
    keys: [...log.samples.keys()],
    order: log.order,
    refused: [...log.refused],
    unreadable: log.unreadable,
    rows: log.digest.rows,
    findings: findings.all,
  };
}

/** Text of UTF-16 is never read the quick way. */
function slowBytes(text: string): Uint8Array {
  return Buffer.from(`\ufeff${text}`, "utf16le");
}

const often = (usual: readonly string[], seldom: readonly string[]) =>
  fc.oneof(
    { weight: 30, arbitrary: fc.constantFrom(...usual) },
    { weight: 1, arbitrary: fc.constantFrom(...seldom) },
  );
const row = fc.tuple(
  often(["P1", "P", "P11", ""], ["P\u200b1", "#REF!", '"P, 1"', " P1 "]),
  fc.oneof(
    { weight: 30, arbitrary: fc.nat(10_000).map((number) => `S${number}`) },
    {
      weight: 1,
      arbitrary: fc.constantFrom("", " ", "A3", "S1", "S1 ", "S\u00a01", "=S", "__proto__", '"S""1"'),
    },
  ),
  often(["2024-06-07", "2024-06-08", ""], ["7/6/2024", "2024-13-01"]),
  often([""], ["x", " "]),
  often(["0.5", "1", ""], ["0", "50%"]),
  often(["3", "", "12.5"], ["\u00e4"]),
  often(["", "a", "aa", "b".repeat(400)], ['"two\nlines"', "\r", 'a "b"', "a,b"]),
);

describe("plain rows of a log from bytes", () => {
  it("give what the reader of records gives, for every log in any pieces", { timeout: 120_000 }, async () => {
    let quick = 0;
    const takeLines = PlainLog.prototype.takeLines;
    PlainLog.prototype.takeLines = function (block) {
      const taken = takeLines.call(this, block);
      quick += taken.lines;
      return taken;
    };
    try {
      await fc.assert(
        fc.asyncProperty(
          fc.array(row, { maxLength: 40 }),
          fc.constantFrom("\n", "\n", "\r\n"),
          fc.boolean(),
          fc.integer({ min: 1, max: 50_000 }),
          async (rows, end, endsOpen, piece) => {
            const text = [HEADER, ...FIRST, ...rows.map((cells) => cells.join(","))].join(end);
            const whole = endsOpen ? text : text + end;
            expect(await readLog(Buffer.from(whole), piece)).toEqual(await readLog(slowBytes(whole), piece));
          },
        ),
        { numRuns: 400 },
      );
    } finally {
      PlainLog.prototype.takeLines = takeLines;
    }
    // Or the test would compare a thing with itself.
    expect(quick).toBeGreaterThan(2000);
  });

  it("remember only so many texts of a column, and read the others all the same", async () => {
    const rows = Array.from({ length: 9000 }, (_, at) => `P${at},S${at},2024-06-07,,0.5,${at},`);
    const text = `${[HEADER, ...FIRST, ...rows].join("\n")}\n`;
    const log = await readLog(Buffer.from(text), 1 << 18);
    expect(log).toEqual(await readLog(slowBytes(text), 1 << 18));
    expect(log.rows).toBe(9070);
    expect(log.samples.at(-1)?.texts).toContainEqual(["site_id", "P8999"]);
  });
});
