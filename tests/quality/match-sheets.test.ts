import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { NamePair } from "../../src/quality/leftover.ts";
import { matchSheets } from "../../src/quality/match-sheets.ts";
import { coarserOf } from "../../src/quality/taxonomic-line.ts";
import { sheet, smallTree } from "./small-tree.ts";

const TREE = smallTree([
  { name: "Acentrella/Baetis", parent: "Baetidae", members: ["Acentrella", "Baetis"] },
  { name: "Baetis/Diphetor", parent: "Baetidae", members: ["Baetis", "Diphetor"] },
  { name: "Acentrella/Diphetor", parent: "Baetidae", members: ["Acentrella", "Diphetor"] },
  { name: "Acentrella/Cinygmula", parent: "Ephemeroptera", members: ["Acentrella", "Cinygmula"] },
]);

function match(primary: Record<string, number>, recheck: Record<string, number>) {
  const found = matchSheets(TREE, sheet(TREE, primary), sheet(TREE, recheck));
  const pairs = (list: readonly NamePair[]) =>
    list.map(({ primary: a, recheck: b, count }) => [TREE.nameOf(a), TREE.nameOf(b), count]);
  const single = (list: typeof found.onlyPrimary) =>
    list.map(({ taxon, count, isShared }) => [TREE.nameOf(taxon), count, isShared]);
  return {
    agreements: found.agreements,
    sameLine: pairs(found.sameLine),
    different: pairs(found.differentNames),
    onlyPrimary: single(found.onlyPrimary),
    onlyRecheck: single(found.onlyRecheck),
  };
}

describe("matchSheets", () => {
  it("finds a sheet equal to itself", () => {
    const same = { Baetis: 20, Simulium: 3, Chironomidae: 40 };
    expect(match(same, same)).toEqual({
      agreements: 63,
      sameLine: [],
      different: [],
      onlyPrimary: [],
      onlyRecheck: [],
    });
  });

  it("takes the animals of one name first, then one line, then the nearest other name", () => {
    const found = match(
      { Baetis: 20, Baetidae: 4, Epeorus: 10, Simulium: 5 },
      { Baetis: 22, Acentrella: 2, Epeorus: 7, Rhithrogena: 3, Simulium: 5 },
    );
    expect(found).toEqual({
      agreements: 32,
      sameLine: [
        ["Baetidae", "Acentrella", 2],
        ["Baetidae", "Baetis", 2],
      ],
      different: [["Epeorus", "Rhithrogena", 3]],
      onlyPrimary: [],
      onlyRecheck: [],
    });
  });

  it("pairs as many animals of one line as there can be, not only the closest first", () => {
    // Closest first would join Baetis with Baetidae and leave Ephemeroptera without a partner for Simulium.
    const found = match({ Baetis: 1, Epeorus: 1 }, { Baetidae: 1, Ephemeroptera: 1 });
    expect(found.sameLine).toEqual([
      ["Baetis", "Baetidae", 1],
      ["Epeorus", "Ephemeroptera", 1],
    ]);
  });

  it("takes pairs apart again where overlapping slash groups ask for it", () => {
    // Both slash groups are one step from their members; Baetis fits both, the others one each.
    const found = match(
      { "Acentrella/Baetis": 2, "Baetis/Diphetor": 2 },
      { Baetis: 2, Acentrella: 1, Diphetor: 1 },
    );
    expect(found.sameLine.reduce((sum, [, , count]) => sum + Number(count), 0)).toBe(4);
    expect(found.different).toEqual([]);
  });

  it("gives an animal of the other sheet back to the one name that has no other", () => {
    // All names are two steps apart; by the order of names Acentrella goes to Acentrella/Baetis at first.
    const found = match({ "Acentrella/Baetis": 3, "Acentrella/Diphetor": 2 }, { Acentrella: 3, Baetis: 2 });
    expect(found.sameLine).toEqual([
      ["Acentrella/Baetis", "Acentrella", 1],
      ["Acentrella/Baetis", "Baetis", 2],
      ["Acentrella/Diphetor", "Acentrella", 2],
    ]);
    expect(found.different).toEqual([]);
  });

  it("goes back over several pairs where it must, by as many animals as each of them has", () => {
    const recheck = { Acentrella: 2, Baetis: 2, Diphetor: 2 };
    const primary = { "Acentrella/Baetis": 2, "Baetis/Diphetor": 2, "Acentrella/Cinygmula": 2 };
    expect(match(primary, recheck).sameLine).toEqual([
      ["Acentrella/Baetis", "Baetis", 2],
      ["Acentrella/Cinygmula", "Acentrella", 2],
      ["Baetis/Diphetor", "Diphetor", 2],
    ]);
    expect(match({ ...primary, "Acentrella/Cinygmula": 1 }, recheck)).toMatchObject({
      sameLine: [
        ["Acentrella/Baetis", "Acentrella", 1],
        ["Acentrella/Baetis", "Baetis", 1],
        ["Acentrella/Cinygmula", "Acentrella", 1],
        ["Baetis/Diphetor", "Baetis", 1],
        ["Baetis/Diphetor", "Diphetor", 1],
      ],
      onlyRecheck: [["Diphetor", 1, false]],
    });
    // Three animals of one name that fits Acentrella only find two at most, whatever is moved.
    expect(match({ ...primary, "Acentrella/Cinygmula": 3 }, recheck)).toMatchObject({
      sameLine: match(primary, recheck).sameLine,
      different: [],
      onlyPrimary: [["Acentrella/Cinygmula", 1, false]],
    });
  });

  it("pairs names that only one sheet has before surpluses of shared names", () => {
    const found = match({ Baetis: 20, Acentrella: 3 }, { Baetis: 18, Diphetor: 3 });
    expect(found.different).toEqual([["Acentrella", "Diphetor", 3]]);
    expect(found.onlyPrimary).toEqual([["Baetis", 2, true]]);
  });

  it("pairs within the family before it looks further", () => {
    const found = match({ Acentrella: 2, Epeorus: 2 }, { Rhithrogena: 2, Diphetor: 2 });
    expect(found.different).toEqual([
      ["Acentrella", "Diphetor", 2],
      ["Epeorus", "Rhithrogena", 2],
    ]);
  });

  it("pairs the closest names of one line first", () => {
    // Either could be the coarser name of Baetis tricaudatus; Baetis is one step away, Baetidae two.
    const found = match({ "Baetis tricaudatus": 2 }, { Baetidae: 1, Baetis: 1, Ephemeroptera: 1 });
    expect(found.sameLine).toEqual([
      ["Baetis tricaudatus", "Baetidae", 1],
      ["Baetis tricaudatus", "Baetis", 1],
    ]);
    expect(found.onlyRecheck).toEqual([["Ephemeroptera", 1, false]]);
    expect(match({ "Baetis tricaudatus": 1 }, { Baetidae: 1, Baetis: 1 }).sameLine).toEqual([
      ["Baetis tricaudatus", "Baetis", 1],
    ]);
  });

  it("pairs larger numbers first, and equal ones in the order of the names", () => {
    expect(match({ Acentrella: 2, Diphetor: 5 }, { Baetis: 4, "Baetis tricaudatus": 3 }).different).toEqual([
      ["Diphetor", "Baetis", 4],
      ["Diphetor", "Baetis tricaudatus", 1],
      ["Acentrella", "Baetis tricaudatus", 2],
    ]);
    // On either sheet, and what has found its partner takes no part further up.
    expect(match({ Epeorus: 2 }, { Acentrella: 1, Diphetor: 5 })).toMatchObject({
      different: [["Epeorus", "Diphetor", 2]],
      onlyRecheck: [
        ["Acentrella", 1, false],
        ["Diphetor", 3, false],
      ],
    });
    expect(match({ Acentrella: 2 }, { Diphetor: 5 }).different).toEqual([["Acentrella", "Diphetor", 2]]);
    expect(match({ Acentrella: 5 }, { Diphetor: 2 }).different).toEqual([["Acentrella", "Diphetor", 2]]);
    const equal = match({ Diphetor: 2, Acentrella: 2 }, { Rhithrogena: 2, Epeorus: 2 });
    expect(equal.different).toEqual([
      ["Acentrella", "Epeorus", 2],
      ["Diphetor", "Rhithrogena", 2],
    ]);
    expect(match({ Acentrella: 2, Diphetor: 2 }, { Epeorus: 2, Rhithrogena: 2 })).toEqual(equal);
  });

  it("pairs names that have only the root in common in the end", () => {
    expect(match({ Simulium: 3 }, { Clitellata: 2 }).different).toEqual([["Simulium", "Clitellata", 2]]);
    expect(match({ Simulium: 3 }, { Epeorus: 1, Baetis: 1 }).different).toEqual([
      ["Simulium", "Baetis", 1],
      ["Simulium", "Epeorus", 1],
    ]);
  });

  it("leaves what only one sheet counted, and says whether the other knows the name", () => {
    expect(match({ Baetis: 5, Simulium: 2 }, { Baetis: 3 })).toMatchObject({
      onlyPrimary: [
        ["Baetis", 2, true],
        ["Simulium", 2, false],
      ],
      onlyRecheck: [],
    });
    expect(match({}, { Baetis: 3 }).onlyRecheck).toEqual([["Baetis", 3, false]]);
    expect(match({}, {}).agreements).toBe(0);
  });

  it("refuses counts that are no animals", () => {
    expect(() => match({ Baetis: 0 }, {})).toThrow(RangeError);
    expect(() => match({ Baetis: 1.5 }, {})).toThrow(RangeError);
  });
});

describe("matchSheets in general", () => {
  const names = fc.constantFrom(...TREE.names.filter((name) => name !== "Animalia"));
  const counts = fc
    .array(fc.tuple(names, fc.integer({ min: 1, max: 4 })), { maxLength: 6 })
    .map((entries) => sheet(TREE, Object.fromEntries(entries)));

  it("puts every animal into exactly one place", () => {
    fc.assert(
      fc.property(counts, counts, (primary, recheck) => {
        const found = matchSheets(TREE, primary, recheck);
        const sum = (list: readonly { count: number }[]) =>
          list.reduce((total, { count }) => total + count, 0);
        const paired = found.agreements + sum(found.sameLine) + sum(found.differentNames);
        expect(paired + sum(found.onlyPrimary)).toBe(found.primaryTotal);
        expect(paired + sum(found.onlyRecheck)).toBe(found.recheckTotal);
        expect(Math.min(sum(found.onlyPrimary), sum(found.onlyRecheck))).toBe(0);
        for (const { primary: a, recheck: b } of found.sameLine)
          expect([a, b]).toContain(coarserOf(TREE, a, b));
        for (const { primary: a, recheck: b } of found.differentNames) expect(a).not.toBe(b);
      }),
    );
  });

  it("pairs as many animals of one line as any way of pairing does, and the same in both directions", () => {
    fc.assert(
      fc.property(counts, counts, (primary, recheck) => {
        const sameLine = (a: typeof primary, b: typeof primary) =>
          matchSheets(TREE, a, b).sameLine.reduce((total, { count }) => total + count, 0);
        const found = sameLine(primary, recheck);
        expect(found).toBe(mostPairs(animalsLeft(primary, recheck), animalsLeft(recheck, primary)));
        expect(sameLine(recheck, primary)).toBe(found);
      }),
      { numRuns: 300 },
    );
  });
});

/** One entry per animal whose name the other sheet does not have (so often). */
function animalsLeft(own: ReadonlyMap<number, number>, other: ReadonlyMap<number, number>): number[] {
  return [...own].flatMap(([one, count]) =>
    Array.from({ length: count - Math.min(count, other.get(one) ?? 0) }, () => one),
  );
}

/** The largest matching of animals one by one, by augmenting paths over single animals (Kuhn 1955). */
function mostPairs(a: readonly number[], b: readonly number[]): number {
  const partner = new Map<number, number>();
  const join = (from: number, seen: Set<number>): boolean =>
    b.some((other, to) => {
      const one = a[from];
      if (one === undefined || seen.has(to) || coarserOf(TREE, one, other) === undefined) return false;
      seen.add(to);
      const before = partner.get(to);
      if (before !== undefined && !join(before, seen)) return false;
      partner.set(to, from);
      return true;
    });
  return a.filter((_, from) => join(from, new Set())).length;
}
