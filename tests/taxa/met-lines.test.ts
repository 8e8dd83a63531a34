import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MetLines } from "../../src/taxa/met-lines.ts";
import { taxon, tree } from "../helpers/worm-and-mayfly-tree.ts";

describe("lines of the taxa that were met", () => {
  it("lead from each to the nearest one above that was met, whatever the order", () => {
    const some = fc.uniqueArray(fc.nat({ max: tree.size - 1 }), { maxLength: 12 });
    fc.assert(
      fc.property(some, (met) => {
        const lines = new MetLines(tree);
        for (const one of met) lines.meet(one);
        for (const one of met) {
          const [, ...line] = tree.lineage(one);
          expect(lines.above[one]).toBe(line.find((above) => met.includes(above)) ?? -1);
          const hasBelow = met.some((other) => other !== one && tree.isWithin(other, one));
          expect(lines.hasBelow[one]).toBe(hasBelow ? 1 : 0);
        }
        expect([...lines.isMet.keys()].filter((one) => lines.isMet[one] === 1)).toEqual(
          [...met].sort((a, b) => a - b),
        );
      }),
      { numRuns: 300 },
    );
  });

  it("are made longer by a taxon met between two", () => {
    const lines = new MetLines(tree);
    for (const name of ["Animalia", "Baetis tricaudatus"]) lines.meet(taxon(name));
    expect(lines.above[taxon("Baetis tricaudatus")]).toBe(taxon("Animalia"));
    lines.meet(taxon("Baetis"));
    expect(lines.above[taxon("Baetis tricaudatus")]).toBe(taxon("Baetis"));
    expect(lines.above[taxon("Baetis")]).toBe(taxon("Animalia"));
  });
});
