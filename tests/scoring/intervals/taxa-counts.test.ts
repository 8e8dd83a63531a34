import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canCount, TaxaCounts } from "../../../src/scoring/intervals/taxa-counts.ts";

describe("numbers of taxa counted together", () => {
  it("are those of each group by itself, however many groups and taxa there are", () => {
    const largest = fc.constantFrom(0, 1, 2, 9, 1000, 1_000_000);
    const cases = fc.integer({ min: 0, max: 40 }).chain((entries) =>
      fc.record({
        kinds: largest.chain((max) => fc.array(fc.nat({ max }), { minLength: entries, maxLength: entries })),
        groups: fc.array(fc.subarray([...new Array(entries).keys()]), { maxLength: 40 }),
        shares: fc.array(
          fc.array(fc.integer({ min: 0, max: 4 }), { minLength: entries, maxLength: entries }),
          {
            minLength: 1,
            maxLength: 3,
          },
        ),
      }),
    );
    fc.assert(
      fc.property(cases, ({ kinds, groups, shares }) => {
        const counts = new TaxaCounts(
          groups.map((group) => Int32Array.from(group)),
          Int32Array.from(kinds),
        );
        for (const share of shares) {
          const richness = Int32Array.from(kinds, (kind, at) => Math.floor((kind * (share[at] ?? 0)) / 4));
          counts.count(richness);
          expect(groups.map((_, group) => counts.of(group))).toEqual(
            groups.map((group) => group.reduce((sum, entry) => sum + (richness[entry] ?? 0), 0)),
          );
        }
      }),
      { numRuns: 500 },
    );
  });

  it("have room for every taxon that there is", () => {
    const most = 2 ** 31 - 1;
    expect([canCount(Int32Array.of(most - 1, 1)), canCount(Int32Array.of(most, 1))]).toEqual([true, false]);
    const counts = new TaxaCounts(
      [Int32Array.of(0), Int32Array.of(0, 1), Int32Array.of(1)],
      Int32Array.of(most - 1, 1),
    );
    counts.count(Int32Array.of(most - 1, 1));
    expect([0, 1, 2].map((group) => counts.of(group))).toEqual([most - 1, most, 1]);
  });
});
