import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lookupKey } from "../../src/names/lookup-key.ts";

describe("the key of a name", () => {
  it.each([
    ["Baetis", "baetis"],
    ["Baetis tricaudatus", "baetis tricaudatus"],
    ["BAETIS_TRICAUDATUS", "baetis tricaudatus"],
    ["Baetis sp.A", "baetis sp a"],
    ["Baetis sp. A", "baetis sp a"],
    ["'Baetis'", "baetis"],
    ["Cricotopus / Orthocladius", "cricotopus/orthocladius"],
    ["Cricotopus\\Orthocladius", "cricotopus/orthocladius"],
    ["Elmidae(L)", "elmidae (l)"],
    ["Elmidae [L]", "elmidae (l)"],
    ["Elmidae ( L )", "elmidae (l)"],
    ["No-see-um", "no see um"],
    ["No\u2010see\u2011um", "no see um"],
    ["Cricotopus/ Orthocladius", "cricotopus/orthocladius"],
    ["Cricotopus /Orthocladius", "cricotopus/orthocladius"],
    ["Œcetis", "oecetis"],
    ["Æshna", "aeshna"],
    ["Chloropérlidae", "chloroperlidae"],
    ["Ｂaetis", "baetis"],
    ["Baetis tricaudatus?", "baetis tricaudatus ?"],
    ["Elmidae (larvae&adults)", "elmidae (larvae & adults)"],
  ])("of %j is %j", (name, key) => {
    expect(lookupKey(name)).toBe(key);
  });

  it("is the key of itself", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 30 }), (name) => {
        const key = lookupKey(name);
        expect(lookupKey(key)).toBe(key);
      }),
      { numRuns: 2000 },
    );
  });
});
