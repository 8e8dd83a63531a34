import { describe, expect, it } from "vitest";
import { NameResolver, operationalTaxa } from "../../src/names/resolve.ts";
import { shared } from "../helpers/shared-tables.ts";
import { brief } from "./small-tables.ts";

// What a name should be is common practice of bench sheets, no source; which names are taxa, synonyms or groups
// is said by reference-tables/taxa, with the source of each row.
const resolver = new NameResolver(shared);

const TAKEN: readonly (readonly [written: string, expected: string])[] = [
  // letter for letter
  ["Acentrella", "Acentrella | exact"],
  ["Baetis tricaudatus", "Baetis tricaudatus | exact"],
  ["Orthocladius (Euorthocladius)", "Orthocladius (Euorthocladius) | exact"],
  // capitals, spaces, stops, accents
  ["ACENTRELLA", "Acentrella | spelling"],
  ["baetis  TRICAUDATUS", "Baetis tricaudatus | spelling"],
  ["Baetis\u00a0tricaudatus ", "Baetis tricaudatus | exact"],
  ["Baetis_tricaudatus", "Baetis tricaudatus | spelling"],
  ["Baetis tricaudatus Dodds, 1923", "Baetis tricaudatus | spelling"],
  ["Hyalella azteca (Saussure, 1858)", "Hyalella azteca | spelling"],
  ["Family Chironomidae", "Chironomidae | spelling"],
  // remarks
  ["Acentrella sp.", "Acentrella | spelling"],
  ["Acentrella sp", "Acentrella | spelling"],
  ["Acentrella spp.", "Acentrella | spelling"],
  ["Acentrella species", "Acentrella | spelling"],
  ["Acentrella sp. (imm.)", "Acentrella | spelling | larva"],
  ["Heptageniidae indet.", "Heptageniidae | spelling"],
  ["Heptageniidae gen. et sp. indet.", "Heptageniidae | spelling"],
  ["Perlidae early instar", "Perlidae | spelling"],
  ["Unidentified Perlidae (damaged)", "Perlidae | spelling"],
  // life stages
  ["Elmidae (L)", "Elmidae | spelling | larva"],
  ["Elmidae(A)", "Elmidae | spelling | adult"],
  ["Elmidae (I)", "Elmidae | spelling | larva"],
  ["Simuliidae pupae", "Simuliidae | spelling | pupa"],
  ["Larval Simuliidae", "Simuliidae | spelling | larva"],
  ["Acentrella sp. nymphs", "Acentrella | spelling | nymph"],
  ["Gomphidae exuviae", "Gomphidae | spelling | exuviae"],
  ["Physa (empty shell)", "Physa | spelling | shell"],
  ["Caddis case", "Trichoptera | synonym | case"],
  ["Elmidae (larvae & adults)", "Elmidae | spelling | uncertain"],
  // doubts
  ["Baetis cf. tricaudatus", "Baetis tricaudatus | spelling | uncertain"],
  ["Baetis nr. tricaudatus", "Baetis tricaudatus | spelling | uncertain"],
  ["Baetis sp. nr. tricaudatus", "Baetis tricaudatus | spelling | uncertain"],
  ["Baetis tricaudatus?", "Baetis tricaudatus | spelling | uncertain"],
  ["? Perlidae", "Perlidae | spelling | uncertain"],
  // synonyms of every kind
  ["Acarina", "Acari | synonym"],
  ["acarina", "Acari | synonym"],
  ["Acentrella amplus", "Acentrella ampla | synonym"],
  ["Heptageniid", "Heptageniidae | synonym"],
  ["Chironomid pupae", "Chironomidae | synonym | pupa"],
  ["riffle beetle", "Elmidae | synonym"],
  ["No-see-um", "Ceratopogonidae | synonym"],
  // ambiguous and in-part names that are taxa stay what they are
  ["Baetis", "Baetis | exact | ambiguous"],
  ["Baetis sp.", "Baetis | spelling | ambiguous"],
  ["Physella", "Physella | exact | in-part"],
  // an ambiguous name that is none goes to the taxon that holds all it may be
  ["Hydro", "Insecta | synonym | ambiguous"],
  ["Ephem", "Ephemeroptera | synonym | ambiguous"],
  // subgenera
  ["Stenonema (Maccaffertium)", "Maccaffertium | spelling"],
  ["Hydropsyche (Ceratopsyche) bronta", "Ceratopsyche bronta | spelling"],
  // slash groups
  ["Cricotopus/Orthocladius", "[Cricotopus/Orthocladius] | exact"],
  ["Orthocladius / Cricotopus", "[Cricotopus/Orthocladius] | spelling"],
  ["CRICOTOPUS/ORTHOCLADIUS SP.", "[Cricotopus/Orthocladius] | spelling"],
  ["Cricotopus/Orthocladius group", "[Cricotopus/Orthocladius] | spelling"],
  ["Cricotopus or Orthocladius", "[Cricotopus/Orthocladius] | spelling"],
  ["Capniidae/Leuctridae", "[Leuctridae/Capniidae] | spelling"],
  ["Perlidae/Perlodidae (L)", "[Perlidae/Perlodidae] | spelling | larva"],
  ["Baetis tricaudatus/intercalaris", "[Baetis intercalaris/tricaudatus] | spelling"],
  ["Baetis intercalaris/B. tricaudatus", "[Baetis intercalaris/tricaudatus] | spelling"],
  ["Perlidae/Acarina", "[Acari/Perlidae] | synonym"],
  ["Perlidae/Perlesta", "Perlidae | spelling | uncertain"],
  // species groups
  ["Thienemannimyia group", "[Thienemannimyia group] | exact"],
  ["Thienemannimyia gr.", "[Thienemannimyia group] | spelling"],
  ["Thienemannimyia (group) sp.", "[Thienemannimyia group] | spelling"],
  ["Perlesta placida complex", "[Perlesta placida complex] | exact"],
  ["Perlesta placida gr.", "[Perlesta placida complex] | spelling"],
  ["Polypedilum halterale grp", "[Polypedilum halterale group] | spelling"],
  ["Rhyacophila zzonata group", "[Rhyacophila zzonata group] | exact | uncertain"],
  ["Imm. Tubificidae with hair chaetae", "[Imm. Tubificidae with hair chaetae] | exact"],
  ["imm tubificidae without hair chaetae", "[Imm. Tubificidae without hair chaetae] | spelling"],
  // provisional names
  ["Acentrella sp. A", "[Acentrella sp. A] | exact"],
  ["acentrella sp.a", "[Acentrella sp. A] | spelling"],
  ["Acentrella species A", "[Acentrella sp. A] | spelling"],
  ["Acentrella sp. 1", "[Acentrella sp. 1] | exact"],
  ["Acentrella sp. #1 (L)", "[Acentrella sp. 1] | spelling | larva"],
  ["Chironomidae Genus A", "[Chironomidae genus A] | spelling"],
  ["Tanytarsus sp. C Epler", "[Tanytarsus sp. C Epler] | exact"],
  ["Polypedilum sp. nov. 2", "[Polypedilum sp. nov. 2] | exact"],
  ["Polypedilum n. sp. 2", "[Polypedilum sp. nov. 2] | spelling"],
];

const UNKNOWN: readonly (readonly [written: string, expected: string])[] = [
  // misspelt: close names, nearest first, never taken
  ["Betis", "unknown: Baetis, Baetidae"],
  ["Hyallela azteca", "unknown: Hyalella azteca"],
  ["Acentrela sp. A", "unknown: Acentrella, Acentria"],
  ["Perlidea/Perlodidae", "unknown: Perlidae, Perlesta, Perlinella"],
  ["Perlesta placidia group", "unknown: Perlesta placida"],
  // abbreviated genera may be anything
  ["B. tricaudatus", "unknown: Baetis tricaudatus"],
  // a bare letter may be a stage or a provisional species
  ["Acentrella A", "unknown: Acentrella"],
  ["Elmidae (L & foo)", "unknown: "],
  // a word behind "sp." is no label
  ["Baetis sp. tricaudatus", "unknown: Baetis tricaudatus"],
  // no room for a species below a species, or a genus below a genus
  ["Baetis tricaudatus sp. A", "unknown: "],
  ["Acentrella genus 1", "unknown: "],
  // not names at all
  ["Total", "unknown: "],
  ["", "unknown: "],
  [" \u00a0", "unknown: "],
  ["12", "unknown: "],
  ["/", "unknown: "],
  ["( )", "unknown: "],
  ["sp.", "unknown: "],
  ["__proto__", "unknown: "],
  ["constructor", "unknown: "],
  ["toString", "unknown: "],
  ["x".repeat(100_000), "unknown: "],
  [`${"Baetis/".repeat(20_000)}Baetis`, "unknown: "],
];

describe("a name on the sheet", () => {
  it.each(TAKEN)("%j is %s", (written, expected) => {
    expect(brief(resolver.resolve(written))).toBe(expected);
  });

  it.each(UNKNOWN)("%j is unknown", (written, expected) => {
    expect(brief(resolver.resolve(written))).toBe(expected);
  });

  it.each([
    ["Rhithrogena zzzzzzzzz", "Rhithrogena"],
    ["Baetis tricaudatus sp. A", "Baetis tricaudatus"],
    ["Acentrella genus 1", "Acentrella"],
    ["Rhithrogena zzzzzzzzz (L)", "Rhithrogena"],
  ])("%s begins with a known taxon, which is said", (written, within) => {
    expect(resolver.resolve(written)).toEqual({ kind: "unknown", suggestions: [], within });
  });

  it("is the same whatever was asked before", () => {
    const fresh = new NameResolver(shared);
    for (const [written, expected] of [...TAKEN, ...UNKNOWN].reverse())
      expect(`${written}: ${brief(fresh.resolve(written))}`).toBe(`${written}: ${expected}`);
  });

  it("begins with a known taxon even behind a remark", () => {
    expect(resolver.resolve("Unidentified Rhithrogena zzzzzzzzz")).toMatchObject({ within: "Rhithrogena" });
  });

  it("says why a synonym was taken, and what an ambiguous name may be", () => {
    expect(resolver.resolve("Acarina")).toMatchObject({ reason: "older name" });
    expect(resolver.resolve("Hydro")).toMatchObject({
      warning: {
        kind: "ambiguous",
        text: '"Hydro" is ambiguous (bench abbreviation: Hydropsyche, Hydroptilidae or Hydrophilidae): taken as Insecta',
      },
    });
    expect(resolver.resolve("Hydropsyche")).toMatchObject({
      warning: {
        text: '"Hydropsyche" is ambiguous (usage with or without Ceratopsyche): taken as the taxon Hydropsyche itself',
      },
    });
  });
});

describe("operational taxa", () => {
  const operational = (name: string) => {
    const resolution = resolver.resolve(name);
    return resolution.kind === "operational" ? resolution.operational : undefined;
  };

  it.each([
    ["Cricotopus/Orthocladius", "Orthocladiinae", ["Cricotopus", "Orthocladius"], "genus"],
    ["Leuctridae/Capniidae", "Plecoptera", ["Capniidae", "Leuctridae"], "family"],
    ["Baetis tricaudatus/intercalaris", "Baetis", ["Baetis intercalaris", "Baetis tricaudatus"], "species"],
    ["Perlesta placida complex", "Perlesta", ["Perlesta placida"], "species"],
    ["Rhyacophila zzonata group", "Rhyacophila", [], "species"],
    ["Imm. Tubificidae with hair chaetae", "Tubificidae", ["Tubificidae"], undefined],
    ["Acentrella sp. A", "Acentrella", [], "species"],
    ["Chironomidae genus 1", "Chironomidae", [], "genus"],
    ["Thienemannimyia group sp. A", "Pentaneurini", [], "species"],
    ["Polypedilum n. sp.", "Polypedilum", [], "species"],
  ])("%s lies under %s", (name, parent, members, rank) => {
    expect(operational(name)).toMatchObject({ parent, members });
    expect(operational(name)?.rank).toBe(rank);
  });

  it("are collected once each for the tree", () => {
    const names = [
      "Cricotopus/Orthocladius",
      "Orthocladius/Cricotopus",
      "Baetis",
      "Betis",
      "Acentrella sp. A",
    ];
    const found = operationalTaxa(names.map((name) => resolver.resolve(name)));
    expect(found.map(({ name }) => name)).toEqual(["Cricotopus/Orthocladius", "Acentrella sp. A"]);
    const grown = shared.tree.extend(found);
    expect(grown.rankOf(grown.numberOf("Acentrella sp. A") ?? -1)).toBe("species");
  });
});

describe("the lab's own list", () => {
  const lab = new NameResolver(
    shared,
    new Map([
      ["Rithrogenna", { accepted: "Rhithrogena" }],
      ["Baetis", { accepted: "Baetis" }],
      ["Acarina", { accepted: "Hydrachnidia" }],
      ["Midge type 4", { accepted: "Cricotopus/Orthocladius" }],
      ["Mayfly one", { accepted: "Acentrella sp. A" }],
      ["E. dor.", { accepted: "Ephemerella dorothea" }],
      ["Wrong", { accepted: "Betis" }],
      ["Old", { accepted: "Acarina" }],
    ]),
  );

  it.each([
    ["Rithrogenna", "Rhithrogena | lab-list"],
    ["RITHROGENNA", "Rhithrogena | lab-list"],
    ["Rithrogenna sp. (L)", "Rhithrogena | lab-list | larva"],
    // it wins over synonyms, and its decision silences the warning of an ambiguous name
    ["Acarina", "Hydrachnidia | lab-list"],
    ["Baetis", "Baetis | lab-list"],
    ["Baetis sp.", "Baetis | lab-list"],
    // it may decide for groups and provisional names
    ["Midge type 4", "[Cricotopus/Orthocladius] | lab-list"],
    ["Mayfly one", "[Acentrella sp. A] | lab-list"],
    // or keep a species that the tree does not list
    ["E. dor.", "[Ephemerella dorothea] | lab-list"],
    ["E dor (L)", "[Ephemerella dorothea] | lab-list | larva"],
    ["Ephemerella dorothea", "unknown: "],
    // an accepted name that is no taxon decides nothing, not even a synonym's target
    ["Wrong", "unknown: Baetis, Baetidae"],
    ["Old", "unknown: Acari, Celina, Marisa"],
    // names it does not hold go the usual way
    ["Acentrella sp.", "Acentrella | spelling"],
  ])("%j is %s", (written, expected) => {
    expect(brief(lab.resolve(written))).toBe(expected);
  });

  it("decides by the exact spelling only where two of its names clash", () => {
    const clashing = new NameResolver(
      shared,
      new Map([
        ["may fly", { accepted: "Baetidae" }],
        ["May-fly", { accepted: "Baetis" }],
      ]),
    );
    expect(brief(clashing.resolve("may fly"))).toBe("Baetidae | lab-list");
    expect(brief(clashing.resolve("May-fly"))).toBe("Baetis | lab-list");
    expect(brief(clashing.resolve("MAY FLY"))).toBe("unknown: Ephemeroptera");
  });
});
