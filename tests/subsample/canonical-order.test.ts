import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFE_STAGES } from "../../src/model/life-stage.ts";
import { canonicalOrder } from "../../src/subsample/canonical-order.ts";
import { drawIndividuals } from "../../src/subsample/draw-individuals.ts";
import { randomStream } from "../../src/subsample/stream.ts";

describe("the order of piles before a draw", () => {
  it("is by code point of the name, then by life stage, then as given", () => {
    const piles = [
      { name: "Zapada", stage: "larva" },
      { name: "baetis", stage: "larva" },
      { name: "Élmis", stage: "adult" },
      { name: "Elmis", stage: "adult" },
      { name: "Elmis", stage: "larva" },
      { name: "Elmis", stage: "adult" },
      { name: "Elmis sp. A", stage: "egg" },
      { name: "Elmis", stage: "unknown" },
    ] as const;
    const named = canonicalOrder(piles).map((at) => `${at} ${piles[at]?.name} ${piles[at]?.stage}`);
    expect(named).toEqual([
      "7 Elmis unknown",
      "4 Elmis larva",
      "3 Elmis adult",
      "5 Elmis adult",
      "6 Elmis sp. A egg",
      "0 Zapada larva",
      "1 baetis larva",
      "2 Élmis adult",
    ]);
  });

  it("makes a draw independent of the order of the rows", () => {
    const pile = fc.record({
      name: fc.constantFrom("Baetis", "Elmis", "Hydropsyche", "__proto__", "Zapada", "Élmis"),
      stage: fc.constantFrom(...LIFE_STAGES),
      count: fc.integer({ min: 0, max: 60 }),
    });
    const sheets = fc.uniqueArray(pile, {
      minLength: 1,
      maxLength: 20,
      selector: (p) => `${p.name}|${p.stage}`,
    });
    const draw = (rows: readonly { name: string; stage: (typeof LIFE_STAGES)[number]; count: number }[]) => {
      const order = canonicalOrder(rows);
      const counts = order.map((at) => rows[at]?.count ?? 0);
      const left = drawIndividuals(counts, 50, randomStream("fixed-count-individual/1", "1", "VN-01"));
      return new Map(order.map((at, position) => [`${rows[at]?.name}|${rows[at]?.stage}`, left[position]]));
    };
    fc.assert(
      fc.property(
        sheets.chain((rows) =>
          fc.tuple(fc.constant(rows), fc.shuffledSubarray(rows, { minLength: rows.length })),
        ),
        ([rows, mixed]) => {
          expect([...draw(mixed)]).toEqual([...draw(rows)]);
        },
      ),
      { seed: 8 },
    );
  });

  it("keeps what is alike in the order given, also among many", () => {
    const alike = Array.from({ length: 40 }, () => ({ name: "Baetis", stage: "larva" as const }));
    expect(canonicalOrder(alike)).toEqual([...alike.keys()]);
  });

  it("of no piles is empty", () => {
    expect(canonicalOrder([])).toEqual([]);
  });
});
