import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lookupKey } from "../../src/names/lookup-key.ts";
import { NameIndex } from "../../src/names/name-index.ts";
import { NameSuggester } from "../../src/names/suggest.ts";
import { shared } from "../helpers/shared-tables.ts";

const { tree, synonyms } = shared;
const suggester = new NameSuggester(new NameIndex(shared));

/** Edit distance by the recurrence of Wagner & Fischer 1974 (J. ACM 21:168-173), nothing clever. */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const swap = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}

/** The rule of the suggester, done over every name without its short cuts. */
function closestByHand(key: string): string[] {
  const limit = key.length <= 3 ? 1 : key.length <= 6 ? 2 : 3;
  const best = new Map<string, number>();
  const offer = (spelling: string, name: string) => {
    const away = edits(lookupKey(spelling), key);
    if (away <= limit) best.set(name, Math.min(away, best.get(name) ?? 99));
  };
  for (const name of tree.names) offer(name, name);
  for (const row of synonyms) {
    if (row.kind === "suffix" || tree.numberOf(row.name) !== undefined) continue;
    offer(row.name, row.kind === "slash" || row.kind === "group" ? row.name : row.accepted);
  }
  return [...best]
    .sort(([a, x], [b, y]) => x - y || (a < b ? -1 : 1))
    .slice(0, 3)
    .map(([name]) => name);
}

describe("close names", () => {
  it("are those of an exhaustive search by the same rule", () => {
    const letters = fc.constantFrom(..."aeiorstlnb /");
    const slip = fc
      .tuple(fc.constantFrom(...tree.names), fc.array(fc.tuple(fc.nat(), letters), { maxLength: 4 }))
      .map(([name, changes]) => {
        const word = [...name.toLowerCase()];
        for (const [at, letter] of changes) word.splice(at % word.length, at % 2, letter);
        return lookupKey(word.join(""));
      });
    fc.assert(
      fc.property(slip, (key) => {
        expect(suggester.closest(key)).toEqual(closestByHand(key));
      }),
      { numRuns: 25 },
    );
  });

  it("suggest the taxon a close synonym stands for, and the group a close group name is", () => {
    expect(suggester.closest(lookupKey("Acarinna"))).toContain("Acari");
    expect(suggester.closest(lookupKey("Physa/Physela"))).toEqual(["Physa/Physella"]);
  });

  it("spell out an abbreviated genus by its species' epithet", () => {
    expect(suggester.expandAbbreviation("b tricaudatus")).toEqual(["Baetis tricaudatus"]);
    expect(suggester.expandAbbreviation("x tricaudatus")).toEqual([]);
    expect(suggester.expandAbbreviation("baetis tricaudatus")).toEqual([]);
  });
});
