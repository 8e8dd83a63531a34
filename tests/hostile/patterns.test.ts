import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { lookupKey } from "../../src/names/lookup-key.ts";
import { normaliseName } from "../../src/names/normalise.ts";
import { NameResolver } from "../../src/names/resolve.ts";
import { readBenchSheets } from "../../src/sheets/bench-sheet.ts";
import { readSampleLog } from "../../src/sheets/sample-log.ts";
import { parseExactShare, parseIsoDate, parseNumber, parseShare } from "../../src/sheets/values.ts";
import { parseTray } from "../../src/subsample/tray.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

/** Texts on which a pattern that tries every way of reading never ends. */
const LONG = ["a", " ", ",", "1", "1,", "(", "/", " sp", "-", ".", "a ", "1 ", "\u00a0", "é"].map((piece) =>
  piece.repeat(100_000 / piece.length),
);
const resolver = new NameResolver({ tree, synonyms: [] });

const READERS: readonly (readonly [string, (text: string) => unknown])[] = [
  ["a number", parseNumber],
  ["a share", (text) => parseShare(text, true)],
  ["an exact share", parseExactShare],
  ["a date", parseIsoDate],
  ["a tray", parseTray],
  ["a name's key", lookupKey],
  ["a normalised name", normaliseName],
  ["a name", (text) => resolver.resolve(text)],
];

/** Times the ways that texts are read; generous, since a pattern that runs away takes minutes. */
const MOST_SECONDS = 2;

function seconds(start: bigint): number {
  return Number(process.hrtime.bigint() - start) / 1e9;
}

describe("a cell of a hundred thousand characters", () => {
  it.each(READERS)("is read as %s in time", (_, read) => {
    for (const text of LONG) {
      for (const odd of [text, `${text}!`, `x${text}\n`]) {
        const start = process.hrtime.bigint();
        read(odd);
        expect(seconds(start), JSON.stringify(odd.slice(0, 8))).toBeLessThan(MOST_SECONDS);
      }
    }
  });

  it("is a tree in which the usual names are found all the same", () => {
    expect(resolver.resolve("baetis sp.")).toMatchObject({ kind: "taxon", taxon: "Baetis" });
    expect(taxon("Baetis")).toBeGreaterThan(0);
  });

  it.each(["sample_id", "taxon", "count", "life_stage", "mount_fraction", "identified_on"])(
    "stands in the column %s of a bench sheet without harm",
    { timeout: 60_000 },
    async (column) => {
      for (const text of LONG) {
        const cells = ["sample_id", "taxon", "count", "life_stage", "mount_fraction", "identified_on"];
        const row = cells.map((name) => (name === column ? `"${text}"` : name === "count" ? "1" : "L"));
        const start = process.hrtime.bigint();
        await readBenchSheets(
          [inputFromBytes("s.csv", `${cells.join(",")}\n${row.join(",")}\n`)],
          {},
          new FindingCollector(),
        );
        expect(seconds(start)).toBeLessThan(MOST_SECONDS);
      }
    },
  );

  it("stands in any column of a sample log without harm", { timeout: 60_000 }, async () => {
    const cells = ["collected_on", "latitude", "area_sampled_m2", "tray", "trainee", "preservative"];
    for (const text of LONG) {
      const findings = new FindingCollector();
      const row = ["S", ...cells.map(() => `"${text}"`)].join(",");
      const start = process.hrtime.bigint();
      await readSampleLog(inputFromBytes("l.csv", `sample_id,${cells.join(",")}\n${row}\n`), {}, findings);
      expect(seconds(start)).toBeLessThan(MOST_SECONDS * 2);
      for (const { message } of findings.all) expect(message.length).toBeLessThan(600);
    }
  });
});
