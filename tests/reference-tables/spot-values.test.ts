import { describe, expect, it } from "vitest";
import { rowsOf, taxa, writtenValue } from "./tables.ts";

// RBP 1999: Barbour, Gerritsen, Snyder and Stribling 1999, EPA 841-B-99-002, Appendix B, by column (seen).
// BMWP: Armitage, Moss, Wright and Furse 1983, as in the seen copy of the published score table unless marked.
// Hilsenhoff 1988: Journal of the North American Benthological Society 7: 65-68 (from memory).
// SASS5: Dickens and Graham 2002. SIGNAL 2: Chessman 2003. MCI: Stark and Maxted 2007 (all from memory).
describe("values as published", () => {
  it.each([
    ["rbp1999-southeast", "Somatochlora", "8.9"],
    ["rbp1999-upper-midwest", "Somatochlora", "1"],
    ["rbp1999-northwest", "Somatochlora", "9"],
    ["rbp1999-southeast", "Xenochironomus xenolabis", "7"],
    ["rbp1999-upper-midwest", "Xenochironomus xenolabis", "0"],
    ["rbp1999-southeast", "Micropsectra", "1.4"],
    ["rbp1999-northwest", "Micropsectra", "7"],
    ["rbp1999-southeast", "Nigronia serricornis", "5.5"],
    ["rbp1999-southeast", "Eristalis", "10"],
    ["rbp1999-midwest", "Eristalis", "0"],
    ["rbp1999-northwest", "Tachopteryx", "10"],
    ["rbp1999-northwest", "Epeorus grandis", "0"],
    ["rbp1999-northwest", "Uenoidae", "0"],
    ["rbp1999-northwest", "Neophylax", "3"],
    ["rbp1999-northwest", "Siphlonuridae", "7"],
    ["rbp1999-northwest", "Ameletus", "0"],
    ["bmwp-1983", "Heptageniidae", "10"],
    ["bmwp-1983", "Astacidae", "8"],
    ["bmwp-1983", "Caenidae", "7"],
    ["bmwp-1983", "Gammaridae", "6"],
    ["bmwp-1983", "Simuliidae", "5"],
    ["bmwp-1983", "Oligochaeta", "1"],
    // From memory of the same list.
    ["bmwp-1983", "Baetidae", "4"],
    ["bmwp-1983", "Asellidae", "3"],
    ["bmwp-1983", "Chironomidae", "2"],
    ["hilsenhoff-1988-family", "Perlidae", "1"],
    ["hilsenhoff-1988-family", "Hydropsychidae", "4"],
    ["hilsenhoff-1988-family", "Chironomidae", "6"],
    ["hilsenhoff-1988-family", "Psychodidae", "10"],
    ["sass5-2002", "Heptageniidae", "13"],
    ["sass5-2002", "Oligoneuriidae", "15"],
    ["signal2-2003", "Leptophlebiidae", "8"],
    ["mci-hardbottom-2007", "Potamopyrgus", "4"],
  ])("%s: %s is %s", (scheme, taxon, value) => {
    expect(writtenValue(scheme, taxon)).toBe(value);
  });

  it.each([
    // SASS5 scores both by the number of their species (Dickens and Graham 2002, from memory).
    ["sass5-2002", "Baetidae"],
    ["sass5-2002", "Hydropsychidae"],
    // No column of RBP 1999, Appendix B, has a family value for these.
    ["rbp1999-northwest", "Isonychiidae"],
    ["rbp1999-northwest", "Polycentropodidae"],
    ["rbp1999-northwest", "Sialidae"],
    ["rbp1999-northwest", "Cambaridae"],
    // Printed against a marine shrimp, where a damselfly seems meant; not carried.
    ["rbp1999-southeast", "Argis"],
    // Clam values printed again at a beetle family; not carried.
    ["rbp1999-northwest", "Sphaeriusidae"],
  ])("%s: no value for %s", (scheme, taxon) => {
    expect(writtenValue(scheme, taxon)).toBe(undefined);
  });

  it.each([
    // RBP 1999, Appendix B.
    ["feeding-group", "Simulium", "collector-filterer"],
    ["feeding-group", "Pteronarcys", "shredder"],
    ["feeding-group", "Pisidium casertanum", "scraper"],
    ["habit", "Drunella", "clinger"],
    ["habit", "Hexagenia", "burrower"],
    // General knowledge, from memory: Thorp and Covich 2010; Merritt, Cummins and Berg 2019.
    ["habit", "Gerridae", "skater"],
    ["life-cycle", "Pteronarcyidae", "semivoltine"],
    ["life-cycle", "Chironomidae", "multivoltine"],
    ["origin", "Dreissena polymorpha", "invasive"],
    ["conservation", "Unionidae", "protected-group"],
  ])("%s: %s is %s", (scheme, taxon, value) => {
    expect(writtenValue(scheme, taxon)).toBe(value);
  });
});

describe("the BMWP list", () => {
  it("has the published number of scoring families in each score from 10 to 5", () => {
    // Armitage and others 1983, counted in the published table.
    const families = (value: string): number =>
      rowsOf("bmwp-1983").filter((row) => row.value === value).length;
    expect(["10", "8", "7", "6", "5"].map(families)).toEqual([22, 10, 5, 9, 24]);
  });
});

describe("the family list of 1988 beside the Northwest column", () => {
  // The comparison that speaks for a list written from memory: of 48 families in both, 45 have the same value.
  it("agrees in 45 of 48 families", () => {
    const northwest = new Map(rowsOf("rbp1999-northwest").map((row) => [row.taxon, row.value]));
    const shared = rowsOf("hilsenhoff-1988-family").filter((row) => northwest.has(row.taxon));
    const apart = shared.filter((row) => row.value !== northwest.get(row.taxon));
    expect(shared).toHaveLength(48);
    expect(apart.map((row) => [row.taxon, row.value, northwest.get(row.taxon)])).toEqual([
      ["Corduliidae", "5", "2"],
      ["Lepidostomatidae", "1", "3"],
      ["Tabanidae", "6", "8"],
    ]);
  });
});

describe("columns of the 1999 list beside each other", () => {
  const column = (name: string): Map<string, number> =>
    new Map(rowsOf(`rbp1999-${name}`).map((row) => [row.taxon, Number(row.value)]));

  /** Taxa with a value in two or more columns; how many differ by at least 3, by at least 5. */
  function differences(names: readonly string[]): number[] {
    const columns = names.map(column);
    const spreads = taxa
      .map((row) => columns.flatMap((values) => values.get(row.taxon) ?? []))
      .filter((values) => values.length > 1)
      // In tenths: 5.1 minus 2.1 is 3, not a little less.
      .map((values) => Math.round(10 * Math.max(...values)) - Math.round(10 * Math.min(...values)));
    return [spreads.length, spreads.filter((d) => d >= 30).length, spreads.filter((d) => d >= 50).length];
  }

  it("differ as the README says", () => {
    expect(differences(["northwest", "southeast", "midwest", "upper-midwest"])).toEqual([314, 114, 29]);
    expect(differences(["northwest", "southeast", "upper-midwest"])).toEqual([265, 72, 21]);
  });

  it("show that the Midwest column is compressed", () => {
    const midwest = column("midwest");
    const southeast = column("southeast");
    const shared = [...midwest.keys()].filter((taxon) => southeast.has(taxon));
    const mean = (values: Map<string, number>): number =>
      shared.reduce((sum, taxon) => sum + (values.get(taxon) ?? 0), 0) / shared.length;
    expect(shared).toHaveLength(134);
    expect([mean(midwest).toFixed(1), mean(southeast).toFixed(1)]).toEqual(["4.0", "5.8"]);
  });
});
