import { describe, expect, it } from "vitest";
import { lookupKey } from "../../src/names/lookup-key.ts";
import { provisionalTaxon, readProvisional } from "../../src/names/provisional.ts";

// How provisional names are written is common practice of laboratories, no source.
describe("a provisional name", () => {
  it.each<[string, string, string, string]>([
    ["Baetis sp. A", "baetis", "sp. A", "species"],
    ["Baetis spp. 1", "baetis", "sp. 1", "species"],
    ["Baetis species a1", "baetis", "sp. A1", "species"],
    ["Baetis taxon 1a", "baetis", "sp. 1A", "species"],
    ["Baetis type IV", "baetis", "sp. IV", "species"],
    ["Baetis morph #3", "baetis", "sp. 3", "species"],
    ["Baetis morphospecies 12", "baetis", "sp. 12", "species"],
    ["Baetis sp. A/B", "baetis", "sp. A/B", "species"],
    ["Baetis tricaudatus sp. A", "baetis tricaudatus", "sp. A", "species"],
    // whose letter it is: letters of two laboratories do not mean the same animals
    ["Tanytarsus sp. C Epler", "tanytarsus", "sp. C Epler", "species"],
    ["Tanytarsus sp. C (Epler 2001)", "tanytarsus", "sp. C (Epler 2001)", "species"],
    ["Tanytarsus sp. C Epler et al.", "tanytarsus", "sp. C Epler et al.", "species"],
    ["Tanytarsus sp. C Epler & Smith", "tanytarsus", "sp. C Epler & Smith", "species"],
    ["Chironomidae genus A", "chironomidae", "genus A", "genus"],
    ["Chironomidae gen. 2 Epler", "chironomidae", "genus 2 Epler", "genus"],
    // new to science
    ["Polypedilum sp. nov. 2", "polypedilum", "sp. nov. 2", "species"],
    ["Polypedilum n. sp. b", "polypedilum", "sp. nov. B", "species"],
    ["Polypedilum sp. nov.", "polypedilum", "sp. nov.", "species"],
    ["Polypedilum undescribed species", "polypedilum", "sp. nov.", "species"],
  ])("%s: %s, %s", (name, stem, ending, rank) => {
    const parts = readProvisional(lookupKey(name));
    expect(parts).toEqual({ stem, ending, rank });
    if (parts === undefined) return;
    expect(provisionalTaxon("Holder", parts)).toEqual({
      name: `Holder ${ending}`,
      parent: "Holder",
      members: [],
      rank,
    });
  });

  it.each(["Baetis", "Baetis A", "Baetis sp.", "Baetis sp. tricaudatus", "sp. A", "Baetis sp. 12345"])(
    "%s is none",
    (name) => {
      expect(readProvisional(lookupKey(name))).toBe(undefined);
    },
  );
});
