import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findFormat } from "../../src/files/formats/registry.ts";
import type { InputFile } from "../../src/files/input.ts";
import { inputFromBytes } from "../../src/files/input.ts";
import { FindingCollector } from "../../src/findings/collector.ts";
import { joinSet, loadBatch } from "../../src/pipeline/load.ts";
import { loadRows } from "../../src/pipeline/load-rows.ts";
import { scoreBatch } from "../../src/pipeline/score-batch.ts";
import { wideColumns, wideRow } from "../../src/pipeline/score-tables.ts";
import { workbook } from "../helpers/workbook.ts";

/** Names that take different turns on the road: parents, groups, animals that do not count, a prototype's name. */
const TAXA: readonly (readonly [string, string])[] = [
  ["Baetis", "nymph"],
  ["Baetidae", "nymph"],
  ["Cricotopus/Orthocladius", "larva"],
  ["Chironomidae", "pupa"],
  ["Lampyridae", "adult"],
  ["Glossosoma", "case"],
  ["Cottus", ""],
  ["Juga", ""],
  ["Hydropsyche sp. A", "larva"],
];
const SAMPLES = ["S-1", "__proto__", "constructor"];

const ready = loadBatch(
  { sheets: [inputFromBytes("s.csv", "sample_id,taxon,count\n")] },
  "vennaloo-demo",
  "/",
);

/** What `score` writes for sheets, byte for byte. */
async function scored(sheets: readonly InputFile[]): Promise<string> {
  const { set, shared } = await ready;
  if (set === undefined) throw new Error("no set");
  const names = inputFromBytes("n.csv", "sheet_name,accepted_name\nCottus,Actinopterygii\n");
  const { rows } = await loadRows({ sheets, names }, set, shared);
  const batch = rows === undefined ? undefined : joinSet(rows, set, new FindingCollector());
  if (batch === undefined) throw new Error("the sheets are refused");
  let text = "";
  const sink = {
    async write(piece: string) {
      text += piece;
    },
  };
  const writer = findFormat("csv").create(sink, wideColumns(set), { schema: "", inputs: [] });
  await writer.start();
  for (const { score } of scoreBatch(batch, { seed: "7", target: undefined, stratum: "upland" }))
    await writer.row(wideRow(set, score));
  await writer.end();
  return text;
}

function sorted(text: string): string[] {
  return text.split("\n").sort();
}

// The first name has animals in every sample, since a sample without any row is none in a long sheet.
const batch = fc.array(
  fc.tuple(fc.integer({ min: 1, max: 300 }), ...TAXA.slice(1).map(() => fc.constantFrom(0, 1, 3, 40, 400))),
  { minLength: 1, maxLength: SAMPLES.length },
);

type LongRow = readonly [string, string, number, string];

function longRows(counts: readonly (readonly number[])[]): LongRow[] {
  return counts.flatMap((own, s) =>
    TAXA.flatMap(([taxon, stage], t): LongRow[] =>
      own[t] === 0 ? [] : [[SAMPLES[s] ?? "", taxon, own[t] ?? 0, stage]],
    ),
  );
}

function longSheet(rows: readonly LongRow[], delimiter = ",", name = "long.csv"): InputFile {
  const lines = [["sample_id", "taxon", "count", "life_stage"], ...rows].map((row) => row.join(delimiter));
  return inputFromBytes(name, `${lines.join("\n")}\n`);
}

describe("the scores of one batch", () => {
  it("are the same bytes from a long sheet, a cross-tab and a workbook", { timeout: 120_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(batch, async (counts) => {
        const header = ["taxon", "life_stage", ...SAMPLES.slice(0, counts.length)];
        const rows = TAXA.map(([taxon, stage], t) => [
          taxon,
          stage,
          ...counts.map((own) => (own[t] === 0 && t % 2 === 0 ? null : (own[t] ?? 0))),
        ]);
        const crossTab = [header, ...rows].map((row) => row.join(";")).join("\r\n");
        const long = await scored([longSheet(longRows(counts))]);
        expect(long).not.toContain(",refused,");
        expect(await scored([inputFromBytes("cross.csv", crossTab)])).toBe(long);
        const book = workbook([{ name: "Bench", rows: [header, ...rows] }]);
        expect(await scored([inputFromBytes("book.xlsx", book)])).toBe(long);
        expect(long.split("\n").filter((line) => line !== "")).toHaveLength(counts.length + 1);
      }),
      { numRuns: 12, seed: 3 },
    );
  });

  it("are the same bytes however the rows are spread over files", { timeout: 120_000 }, async () => {
    await fc.assert(
      fc.asyncProperty(
        batch,
        fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 30, maxLength: 30 }),
        fc.integer({ min: 1, max: 29 }),
        async (counts, places, turn) => {
          const rows = longRows(counts);
          const whole = sorted(await scored([longSheet(rows)]));
          const turned = [...rows.slice(turn % rows.length), ...rows.slice(0, turn % rows.length)];
          const files: LongRow[][] = [[], [], []];
          for (const [at, row] of turned.entries()) files[places[at] ?? 0]?.push(row);
          const parts = files.map((own, at) =>
            longSheet(own, at === 1 ? "\t" : ",", `${at}.${at === 1 ? "tsv" : "csv"}`),
          );
          expect(sorted(await scored(parts))).toEqual(whole);
        },
      ),
      { numRuns: 12, seed: 5 },
    );
  });

  it("do not hang on what else is in the batch, whatever its samples are called", async () => {
    const counts = [
      [250, 3, 1, 40, 0, 1, 3, 1, 1],
      [90, 40, 3, 0, 1, 0, 0, 40, 3],
      [300, 400, 40, 3, 0, 0, 1, 0, 40],
    ];
    const rows = longRows(counts);
    const all = (await scored([longSheet(rows)])).split("\n");
    for (const [s, sample] of SAMPLES.entries()) {
      const alone = (await scored([longSheet(rows.filter((row) => row[0] === sample))])).split("\n");
      expect(alone).toEqual([all[0], all[s + 1], ""]);
    }
    expect(({} as Record<string, unknown>).x).toBe(undefined);
  });
});
