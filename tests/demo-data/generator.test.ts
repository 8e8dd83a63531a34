import { describe, expect, it } from "vitest";

interface Stream {
  below(limit: number): number;
}
interface Visit {
  readonly stratum: "upland" | "valley" | "lowland";
  readonly stress: number;
  readonly animals: number;
  readonly variety: number;
  readonly season: "spring" | "autumn";
}

// The generator is plain JavaScript; its shape is stated here, at the edge.
const { startStream } = (await import(
  new URL("../../demo-data/generator/random.mjs", import.meta.url).href
)) as { startStream(seed: number, name: string): Stream };
const { inventCatch } = (await import(
  new URL("../../demo-data/generator/catch.mjs", import.meta.url).href
)) as {
  inventCatch(visit: Visit, stream: Stream, beside?: ReadonlyMap<string, number>): Map<string, number>;
};
const { csvText } = (await import(new URL("../../demo-data/generator/csv.mjs", import.meta.url).href)) as {
  csvText(columns: readonly string[], rows: readonly Record<string, string | number>[]): string;
};

const VISIT: Visit = { stratum: "valley", stress: 0, animals: 300, variety: 40, season: "spring" };

describe("the source of whole numbers", () => {
  it("gives each number about equally often", () => {
    // Chi-square over 7 cells, 6 degrees of freedom: 22.46 is passed by chance once in a thousand (standard table, from memory).
    const stream = startStream(1, "even");
    const cells = [0, 0, 0, 0, 0, 0, 0];
    for (let i = 0; i < 70_000; i++) {
      const value = stream.below(7);
      cells[value] = (cells[value] ?? 0) + 1;
    }
    const chiSquare = cells.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chiSquare).toBeLessThan(22.46);
  });

  it("gives the same stream for the same name and another for another name", () => {
    const first = (seed: number, name: string) => {
      const stream = startStream(seed, name);
      return Array.from({ length: 8 }, () => stream.below(1_000_000));
    };
    expect(first(1, "U1")).toEqual(first(1, "U1"));
    expect(first(1, "U1")).not.toEqual(first(1, "U2"));
    expect(first(1, "U1")).not.toEqual(first(2, "U1"));
  });

  it("refuses a limit that is no whole number above zero", () => {
    const stream = startStream(1, "limits");
    expect(() => stream.below(0)).toThrow(RangeError);
    expect(() => stream.below(2.5)).toThrow(RangeError);
    expect(stream.below(1)).toBe(0);
  });
});

describe("the invented catch", () => {
  it("holds exactly the animals asked for", () => {
    const counts = [...inventCatch(VISIT, startStream(1, "a")).values()];
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(300);
    expect(Math.min(...counts)).toBeGreaterThanOrEqual(1);
  });

  it("leaves spring animals out in autumn", () => {
    // Prosimulium and Taenionema carry the word spring in the table of taxa.
    const seen = new Set<string>();
    for (let i = 0; i < 40; i++) {
      const autumn: Visit = { ...VISIT, stratum: "upland", season: "autumn" };
      for (const taxon of inventCatch(autumn, startStream(i, "b")).keys()) seen.add(taxon);
    }
    expect([seen.has("Prosimulium"), seen.has("Taenionema"), seen.has("Baetis")]).toEqual([
      false,
      false,
      true,
    ]);
  });

  it("resembles the catch beside it more than one from elsewhere", () => {
    let beside = 0;
    let apart = 0;
    for (let i = 0; i < 20; i++) {
      const first = inventCatch(VISIT, startStream(i, "c"));
      beside += shared(first, inventCatch(VISIT, startStream(i, "d"), first));
      apart += shared(first, inventCatch(VISIT, startStream(i, "d")));
    }
    expect(beside).toBeGreaterThan(apart * 1.15);
  });
});

describe("the writer", () => {
  it("quotes commas and quotes and leaves missing columns empty", () => {
    expect(csvText(["a", "b"], [{ a: 'x, "y"' }, { b: 0 }])).toBe('a,b\n"x, ""y""",\n,0\n');
  });

  it("refuses a column that the header lacks", () => {
    expect(() => csvText(["a"], [{ b: 1 }])).toThrow("no column b");
  });
});

/** Animals that two catches of the same size have in common. */
function shared(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  return [...a].reduce((sum, [taxon, count]) => sum + Math.min(count, b.get(taxon) ?? 0), 0);
}
