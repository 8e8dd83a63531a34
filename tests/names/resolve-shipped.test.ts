import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lookupKey } from "../../src/names/lookup-key.ts";
import { normaliseName } from "../../src/names/normalise.ts";
import { NameResolver } from "../../src/names/resolve.ts";
import { closeLimit } from "../../src/names/suggest.ts";
import { shared } from "../helpers/shared-tables.ts";

const { tree, synonyms } = shared;
const resolver = new NameResolver(shared);
const anyTaxon = fc.constantFrom(...tree.names);

describe("the shipped tables", () => {
  it("resolve every taxon of the tree to itself", () => {
    for (const name of tree.names)
      expect(resolver.resolve(name)).toMatchObject({ taxon: name, via: "exact" });
  });

  it("hold no two taxa that only their exact spelling tells apart", () => {
    expect(new Set(tree.names.map(lookupKey)).size).toBe(tree.size);
  });

  it("resolve every synonym to its accepted name, or to itself where it is a taxon", () => {
    const plain = synonyms.filter(({ kind }) => !["suffix", "slash", "group"].includes(kind));
    expect(plain.length).toBeGreaterThan(350);
    for (const { name, accepted } of plain) {
      const taxon = tree.numberOf(name) === undefined ? accepted : name;
      expect(resolver.resolve(name)).toMatchObject({ kind: "taxon", taxon });
    }
  });

  it("make an operational taxon of every slash and group, under the lowest taxon that holds it", () => {
    const groups = synonyms.filter(({ kind }) => kind === "slash" || kind === "group");
    expect(groups).toHaveLength(28);
    for (const { name, accepted, candidates } of groups) {
      const resolution = resolver.resolve(name);
      if (resolution.kind !== "operational") throw new Error(`${name} is not operational`);
      const { parent, members } = resolution.operational;
      if (candidates.length === 0) expect([...members, parent]).toContain(accepted);
      else {
        expect(parent).toBe(accepted);
        expect([...members]).toEqual([...candidates].sort());
      }
    }
  });

  // The words of the table's suffix rows, tried behind a name.
  it.each(synonyms.filter(({ kind }) => kind === "suffix").map(({ name, reason }) => [name, reason]))(
    "know what to do with the suffix %j",
    (suffix, reason) => {
      if (suffix === "Caddis case") {
        expect(resolver.resolve(suffix)).toMatchObject({ taxon: "Trichoptera", stage: "case" });
        return;
      }
      const genus = ["nr.", "cf."].includes(suffix) ? "Baetis" : "Simulium";
      const written = genus === "Baetis" ? `Baetis ${suffix} tricaudatus` : `Simulium ${suffix}`;
      const resolution = resolver.resolve(written);
      expect(resolution.kind).not.toBe("unknown");
      if (resolution.kind === "unknown") return;
      const stage = /stage=(\w+)/.exec(reason)?.[1];
      if (stage !== undefined) expect(resolution.stage).toBe(stage);
      if (reason.includes("do not count")) expect(["exuviae", "shell", "case"]).toContain(resolution.stage);
      if (reason.includes("uncertain") || reason.includes("mixed"))
        expect(resolution.warning?.kind).toBe("uncertain");
      if (reason.includes("species group") || reason.includes("complex"))
        expect(resolution.kind).toBe("operational");
    },
  );
});

describe("resolving", () => {
  it("does not depend on capitals, white space or a stage behind the name", () => {
    fc.assert(
      fc.property(anyTaxon, fc.constantFrom("", " (L)", " larvae", " sp.", " indet."), (name, ending) => {
        const written = ` ${name.toUpperCase().replaceAll(" ", "\u00a0 ")}${ending} `;
        expect(resolver.resolve(written)).toMatchObject({ kind: "taxon", taxon: name, via: "spelling" });
      }),
    );
  });

  it("gives names that normalise alike the same taxon, so that a pile of a draw is one taxon", () => {
    const written = fc.oneof(anyTaxon, fc.constantFrom(...synonyms.map(({ name }) => name)));
    fc.assert(
      fc.property(written, (name) => {
        const [a, b] = [resolver.resolve(name), resolver.resolve(normaliseName(name))];
        const taxonOf = (one: typeof a) =>
          one.kind === "taxon" ? one.taxon : one.kind === "operational" ? one.operational.name : "";
        expect(taxonOf(a)).toBe(taxonOf(b));
      }),
    );
  });

  it("never guesses: a name with a digit put into it is unknown, and the name is among those suggested", () => {
    fc.assert(
      fc.property(anyTaxon, fc.nat(), (name, at) => {
        const position = 1 + (at % (name.length - 1));
        const slip = `${name.slice(0, position)}7${name.slice(position)}`;
        const resolution = resolver.resolve(slip);
        if (resolution.kind !== "unknown") {
          // "Simulium 7tuberosum" cannot be; a digit at a word's end is a label only behind "sp.".
          throw new Error(`${slip} was taken as something`);
        }
        if (resolution.suggestions.length < 3) expect(resolution.suggestions).toContain(name);
        expect(resolution.suggestions.length).toBeLessThanOrEqual(3);
      }),
    );
  });

  it("takes any text without falling over, and always says the same", () => {
    const words = fc.constantFrom(
      "Baetis",
      "sp.",
      "cf.",
      "/",
      "(L)",
      "group",
      "A",
      "?",
      "(",
      ")",
      "1999",
      "or",
    );
    const text = fc.oneof(
      fc.string({ unit: "binary", maxLength: 60 }),
      fc.array(words, { maxLength: 8 }).map((list) => list.join(" ")),
    );
    fc.assert(
      fc.property(text, (name) => {
        const resolution = resolver.resolve(name);
        expect(new NameResolver(shared).resolve(name)).toEqual(resolution);
        if (resolution.kind === "taxon") expect(tree.numberOf(resolution.taxon)).toBeGreaterThanOrEqual(0);
        if (resolution.kind === "operational")
          expect(tree.extend([resolution.operational]).numberOf(resolution.operational.name)).toBe(
            tree.numberOf(resolution.operational.name) ?? tree.size,
          );
      }),
      { numRuns: 60 },
    );
  });

  it("suggests only within the limit", () => {
    // 1, 2 or 3 letters by length: the thresholds of the closest-name rule this project took over.
    expect([1, 3, 4, 6, 7, 30].map(closeLimit)).toEqual([1, 1, 2, 2, 3, 3]);
  });
});
