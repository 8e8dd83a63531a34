import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { assembleCommunity, CommunityAssembler } from "../../src/taxa/assemble.ts";
import type { CountedPile } from "../../src/taxa/counted-pile.ts";
import { explainAssembly } from "../../src/taxa/explain-assembly.ts";
import { PARENT_METHODS } from "../../src/taxa/parents.ts";
import { tree } from "../helpers/worm-and-mayfly-tree.ts";
import { AS_NAMED, rules, TO_FAMILY, TO_GENUS } from "./piles.ts";

const anyPile: fc.Arbitrary<CountedPile> = fc.record({
  taxon: fc.integer({ min: 0, max: tree.size - 1 }),
  count: fc.integer({ min: 0, max: 20 }),
  largeRare: fc.boolean(),
  distinct: fc.constantFrom("", "", "", "yes" as const, "no" as const),
  numberOfTaxa: fc.constantFrom(1, 1, 1, 2, 3),
  beforeDraw: fc.constantFrom(undefined, undefined, 25),
});
const plainPile = anyPile.map(({ taxon, count }): CountedPile => {
  return { taxon, count: count + 1, largeRare: false, distinct: "", numberOfTaxa: 1 };
});
const sample = fc.array(anyPile, { maxLength: 14 });
const plainSample = fc.array(plainPile, { minLength: 1, maxLength: 12 });
const level = fc.constantFrom(AS_NAMED, TO_GENUS, TO_FAMILY);
const method = fc.constantFrom(...PARENT_METHODS);

/** Names of a taxon's line, itself first. */
const line = (taxon: number) => tree.lineage(taxon).map((one) => tree.nameOf(one));
/** The same relation as in the program, said with names and sets. */
function finer(a: number, b: number): boolean {
  const [nameA, nameB] = [tree.nameOf(a), tree.nameOf(b)];
  if (nameA === nameB) return false;
  if (line(a).includes(nameB)) return true;
  const group = tree.operational.get(b);
  if (group === undefined || group.members.length === 0) return false;
  const own = tree.operational.get(a);
  const inside = (name: string, members: readonly string[]) => {
    const upwards = line(tree.numberOf(name) ?? -1);
    return members.some((member) => upwards.includes(member));
  };
  if (own !== undefined && own.members.length > 0) {
    const within = own.members.every((member) => inside(member, group.members));
    return within && !group.members.every((member) => inside(member, own.members));
  }
  const place = own?.parent ?? nameA;
  return place !== group.parent && inside(place, group.members);
}

/** Richness of plain records by the rule read aloud: the taxa it stands for less those of its finer records. */
function richnessByHand(taxa: readonly number[]): Map<number, number> {
  const known = new Map<number, number>();
  const richness = (one: number): number => {
    const before = known.get(one);
    if (before !== undefined) return before;
    const below = taxa.filter((other) => finer(other, one)).reduce((sum, other) => sum + richness(other), 0);
    known.set(one, Math.max(0, 1 - below));
    return known.get(one) ?? 0;
  };
  for (const one of taxa) richness(one);
  return known;
}

describe("any sample", () => {
  it("has the richness that the rule gives when it is worked out name by name", () => {
    fc.assert(
      fc.property(plainSample, (piles) => {
        const { community } = assembleCommunity(piles, rules());
        const byHand = richnessByHand([...community.taxa]);
        expect([...community.richness]).toEqual([...community.taxa].map((one) => byHand.get(one)));
      }),
      { numRuns: 500 },
    );
  });

  it("is the same for any order of its piles and however they are split", () => {
    fc.assert(
      fc.property(sample, level, method, fc.infiniteStream(fc.nat()), (piles, levelOf, parents, order) => {
        const given = rules({ levelOf, parents });
        const whole = assembleCommunity(piles, given);
        const keyed = piles.map((one) => ({ one, key: order.next().value ?? 0 }));
        const shuffled = keyed.sort((a, b) => a.key - b.key).map(({ one }) => one);
        const mixed = assembleCommunity(shuffled, given);
        expect(mixed.community.taxa).toEqual(whole.community.taxa);
        expect(mixed.community.richness).toEqual(whole.community.richness);
        mixed.community.counts.forEach((count, i) => {
          expect(count).toBeCloseTo(whole.community.counts[i] ?? -1, 9);
        });
        const halves = piles.flatMap((one) => {
          const half = Math.floor(one.count / 2);
          return [{ ...one, count: one.count - half }, ...(half > 0 ? [{ ...one, count: half }] : [])];
        });
        expect(assembleCommunity(halves, given).community).toEqual(whole.community);
      }),
      { numRuns: 300 },
    );
  });

  it("loses no animal but by the rule that removes them", () => {
    fc.assert(
      fc.property(sample, level, method, (piles, levelOf, parents) => {
        const before = piles.reduce((sum, one) => sum + (one.largeRare ? 0 : one.count), 0);
        const { community, moves } = assembleCommunity(piles, rules({ levelOf, parents }));
        const removed = moves.reduce((sum, move) => sum + (move.to === undefined ? move.animals : 0), 0);
        expect(community.total).toBe(before - removed);
        expect(community.counts.reduce((sum, count) => sum + count, 0)).toBeCloseTo(community.total, 9);
        if (parents !== "remove" && parents !== "larger") expect(removed).toBe(0);
      }),
      { numRuns: 300 },
    );
  });

  it("has at least one taxon when it has a plain record, and never more than records", () => {
    fc.assert(
      fc.property(plainSample, level, method, (piles, levelOf, parents) => {
        const { community } = assembleCommunity(piles, rules({ levelOf, parents }));
        const richness = community.richness.reduce((sum, taxa) => sum + taxa, 0);
        expect(richness).toBeGreaterThanOrEqual(1);
        expect(richness).toBeLessThanOrEqual(community.taxa.length);
      }),
    );
  });

  it("has no ambiguous parent left once a method has dealt with them", () => {
    fc.assert(
      fc.property(
        plainSample,
        fc.constantFrom("remove", "merge", "larger", "distribute" as const),
        (piles, parents) => {
          const { community } = assembleCommunity(piles, rules({ parents }));
          for (const a of community.taxa) {
            for (const b of community.taxa) expect([a, b, finer(a, b)]).toEqual([a, b, false]);
          }
          expect(Math.min(...community.richness)).toBe(1);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("comes out of a used assembler as out of a fresh one", () => {
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 4 }), method, (samples, parents) => {
        const used = new CommunityAssembler(rules({ parents }));
        for (const piles of samples)
          expect(used.assemble(piles)).toEqual(assembleCommunity(piles, rules({ parents })));
      }),
      { numRuns: 100 },
    );
  });

  it("is explained with the numbers that are scored", () => {
    fc.assert(
      fc.property(sample, level, method, (piles, levelOf, parents) => {
        const given = rules({ levelOf, parents });
        const story = explainAssembly(piles, given);
        const { community } = assembleCommunity(piles, given);
        expect(story.assembled.community).toEqual(community);
        const sums = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
        expect(sums(story.records.map((record) => record.richness))).toBe(sums([...community.richness]));
        for (const record of story.records) {
          if (record.reason === "distinct")
            expect([record.because.length, record.richness > 0]).toEqual([0, true]);
          if (record.reason === "says-no") expect(record.richness).toBe(0);
        }
      }),
      { numRuns: 200 },
    );
  });
});
