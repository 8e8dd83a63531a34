import { beforeAll, describe, expect, it } from "vitest";
import { benchRowsOf } from "./demo-files.ts";
import { type ResultRow, scoreDemo } from "./score-demo.ts";

/*
 * Three samples of the demo batch worked out with pencil and paper, one for each region, and compared with what
 * the built program says. None of them holds more than 200 animals that count, so nothing is drawn.
 *
 * Tolerance values: reference-tables/attributes/tolerance/rbp1999-northwest.csv (Barbour et al. 1999, Appendix B,
 * Northwest column). Limits and classes: reference-tables/sets/vennaloo-demo. Levels of that set: genus, with
 * midges (Chironomidae) at family and worms (Oligochaeta) at subclass.
 */

/** Taxon, animals, tolerance value: one line of the pencilled table. */
type Line = readonly [taxon: string, count: number, tolerance: number];

let results: ReadonlyMap<string, ResultRow> = new Map();

beforeAll(() => {
  results = scoreDemo();
});

function numbersOf(sampleId: string): ResultRow {
  const row = results.get(sampleId);
  if (row === undefined) throw new Error(`no result for ${sampleId}`);
  return row;
}

/** Sums of a pencilled table, so that a slip in a comment cannot hide. */
function sums(lines: readonly Line[]): { animals: number; product: number } {
  return {
    animals: lines.reduce((sum, line) => sum + line[1], 0),
    product: lines.reduce((sum, line) => sum + line[1] * line[2], 0),
  };
}

/** A number of the results as near as its 12 written digits. */
function near(value: number) {
  return expect.closeTo(value, 9);
}

describe("U4-2023-06, upland: scores along straight lines", () => {
  // Heterlimnius: 6 larvae and 1 adult. Oligochaeta: 1 Nais. Chironomidae: 6 Eukiefferiella.
  const LINES: readonly Line[] = [
    ["Polycelis", 1, 6], //            6      6
    ["Oligochaeta", 1, 5], //          5     11
    ["Lebertia", 5, 8], //            40     51
    ["Baetis", 19, 5], //             95    146   mayfly
    ["Drunella", 2, 0], //             0    146   mayfly
    ["Epeorus", 2, 0], //              0    146   mayfly
    ["Ironodes", 4, 4], //            16    162   mayfly
    ["Rhithrogena", 5, 0], //          0    162   mayfly
    ["Paraleptophlebia", 7, 1], //     7    169   mayfly
    ["Zapada", 1, 2], //               2    171   stonefly
    ["Doroneuria", 2, 1], //           2    173   stonefly
    ["Sweltsa", 1, 1], //              1    174   stonefly
    ["Glossosoma", 2, 0], //           0    174   caddisfly
    ["Arctopsyche", 1, 1], //          1    175   caddisfly
    ["Hydropsyche", 3, 4], //         12    187   caddisfly
    ["Rhyacophila", 3, 0], //          0    187   caddisfly
    ["Heterlimnius", 7, 4], //        28    215
    ["Antocha", 2, 3], //              6    221
    ["Hexatoma", 3, 2], //             6    227
    ["Blepharicera", 1, 0], //         0    227
    ["Simulium", 7, 6], //            42    269
    ["Chironomidae", 6, 6], //        36    305
  ];

  it("holds 85 animals and a product of 305, as pencilled", () => {
    expect(sums(LINES)).toEqual({ animals: 85, product: 305 });
    const onSheet = benchRowsOf("U4-2023-06").reduce((sum, row) => sum + Number(row.count), 0);
    expect(onSheet).toBe(85);
  });

  it("gives the metrics", () => {
    expect(numbersOf("U4-2023-06")).toMatchObject({
      individuals_counted: 85,
      individuals_scored: 85,
      taxa_richness: 22, // 22 lines
      ept_richness: 13, // 6 mayflies + 3 stoneflies + 4 caddisflies
      percent_dominant_taxon: near(22.3529411765), // 19 Baetis x 100 / 85
      tolerance_index: near(3.58823529412), // 305 / 85
    });
  });

  it("gives the scores, the index and the rating", () => {
    expect(numbersOf("U4-2023-06")).toMatchObject({
      taxa_richness_score: near(5.45454545455), // (22 - 10) / (32 - 10) x 10 = 120 / 22
      ept_richness_score: near(4.7619047619), // (13 - 3) / (24 - 3) x 10 = 100 / 21
      percent_dominant_taxon_score: near(8.3660130719), // (60 - 22.3529411765) / (60 - 15) x 10
      tolerance_index_score: near(6.89075630252), // (6 - 3.58823529412) / (6 - 2.5) x 10
      // 5.4545 + 4.7619 + 8.3660 + 6.8908 = 25.4732; x 100 / 40 = 63.683
      index: 63.7,
      rating: "good", // 60 to below 80
    });
  });

  it("is flagged: fewer animals than the least count of 100", () => {
    expect(numbersOf("U4-2023-06").status).toBe("flagged");
  });
});

describe("V4-2023-05, valley: a parent beside its children, and rows that must not count", () => {
  // Not counted: 2 adult Psephenus, 9 empty cases of Glossosoma, 6 empty shells of Juga.
  // Optioservus: 10 larvae and 4 adults. Chironomidae: 5 Thienemannimyia + 3 Cricotopus + 2 Eukiefferiella
  // + 2 Orthocladius + 7 Parametriocnemus + 1 Microtendipes + 1 Polypedilum + 9 Micropsectra = 30.
  const LINES: readonly Line[] = [
    ["Juga", 8, 7], //                56     56
    ["Sperchon", 5, 8], //            40     96
    ["Gammarus", 2, 4], //             8    104
    ["Baetis", 38, 5], //            190    294   mayfly
    ["Drunella", 1, 0], //             0    294   mayfly
    ["Ephemerella", 1, 1], //          1    295   mayfly
    ["Tricorythodes", 3, 5], //       15    310   mayfly
    ["Paraleptophlebia", 2, 1], //     2    312   mayfly
    ["Pteronarcys", 1, 0], //          0    312   stonefly
    ["Calineuria", 2, 3], //           6    318   stonefly, of the Perlidae
    ["Hesperoperla", 3, 1], //         3    321   stonefly, of the Perlidae; no value of its own: that of the family
    ["Skwala", 1, 2], //               2    323   stonefly
    ["Sweltsa", 1, 1], //              1    324   stonefly
    ["Glossosoma", 4, 0], //           0    324   caddisfly
    ["Hydropsyche", 16, 4], //        64    388   caddisfly
    ["Cheumatopsyche", 6, 5], //      30    418   caddisfly
    ["Lepidostoma", 3, 1], //          3    421   caddisfly
    ["Petrophila", 2, 5], //          10    431
    ["Optioservus", 14, 4], //        56    487
    ["Zaitzevia", 2, 4], //            8    495
    ["Antocha", 10, 3], //            30    525
    ["Dicranota", 1, 3], //            3    528
    ["Simulium", 16, 6], //           96    624
    ["Chironomidae", 30, 6], //      180    804
    ["Heptageniidae", 11, 4], //      44    848   mayfly; no genus of the family here, so a taxon of its own
    ["Perlidae", 4, 1], //             4    852   stonefly; two of its genera are here: animals, but no further taxon
  ];

  it("holds 187 animals that count and a product of 852, as pencilled", () => {
    expect(sums(LINES)).toEqual({ animals: 187, product: 852 });
    // On the sheet stand 17 more: 2 + 9 + 6.
    const onSheet = benchRowsOf("V4-2023-05").reduce((sum, row) => sum + Number(row.count), 0);
    expect(onSheet).toBe(187 + 17);
  });

  it("gives the metrics", () => {
    expect(numbersOf("V4-2023-05")).toMatchObject({
      individuals_counted: 187,
      individuals_scored: 187,
      taxa_richness: 25, // 26 lines less Perlidae
      ept_richness: 15, // 6 mayflies + 5 stoneflies (Perlidae not among them) + 4 caddisflies
      percent_dominant_taxon: near(20.320855615), // 38 Baetis x 100 / 187
      tolerance_index: near(4.55614973262), // 852 / 187
    });
  });

  it("gives the scores, the index and the rating", () => {
    expect(numbersOf("V4-2023-05")).toMatchObject({
      taxa_richness_score: near(6.53846153846), // (25 - 8) / (34 - 8) x 10 = 170 / 26
      ept_richness_score: near(7.22222222222), // (15 - 2) / (20 - 2) x 10 = 130 / 18
      percent_dominant_taxon_score: near(8.81758764112), // (60 - 20.3208556150) / (60 - 15) x 10
      tolerance_index_score: near(6.47950089127), // (6.5 - 4.55614973262) / (6.5 - 3.5) x 10
      // 6.5385 + 7.2222 + 8.8176 + 6.4795 = 29.0578; x 100 / 40 = 72.644
      index: 72.6,
      rating: "good", // 60 to below 80
    });
  });
});

describe("L3-2023-05, lowland: scores in steps", () => {
  // Oligochaeta: 1 Lumbriculidae + 26 Tubifex + 1 Limnodrilus = 28.
  // Chironomidae: 7 Cricotopus + 6 Chironomus + 8 Dicrotendipes + 8 Polypedilum + 6 Tanytarsus = 35.
  const LINES: readonly Line[] = [
    ["Dugesia", 16, 4], //            64     64
    ["Oligochaeta", 28, 5], //       140    204
    ["Pisidium", 2, 8], //            16    220
    ["Physa", 27, 8], //             216    436
    ["Hyalella", 4, 8], //            32    468
    ["Gammarus", 1, 4], //             4    472
    ["Caecidotea", 3, 8], //          24    496
    ["Hydropsyche", 17, 4], //        68    564   caddisfly
    ["Cheumatopsyche", 9, 5], //      45    609   caddisfly
    ["Simulium", 9, 6], //            54    663
    ["Chironomidae", 35, 6], //      210    873
  ];

  it("holds 151 animals and a product of 873, as pencilled", () => {
    expect(sums(LINES)).toEqual({ animals: 151, product: 873 });
    const onSheet = benchRowsOf("L3-2023-05").reduce((sum, row) => sum + Number(row.count), 0);
    expect(onSheet).toBe(151);
  });

  it("gives the metrics", () => {
    expect(numbersOf("L3-2023-05")).toMatchObject({
      individuals_counted: 151,
      individuals_scored: 151,
      taxa_richness: 11, // 11 lines
      ept_richness: 2, // 2 caddisflies
      percent_dominant_taxon: near(23.178807947), // 35 Chironomidae x 100 / 151
      tolerance_index: near(5.78145695364), // 873 / 151
    });
  });

  it("gives the scores, the index and the rating", () => {
    expect(numbersOf("L3-2023-05")).toMatchObject({
      taxa_richness_score: 0, // below 14
      ept_richness_score: 0, // below 4
      percent_dominant_taxon_score: 10, // 30 or less
      tolerance_index_score: 5, // above 5.4, 5.8 or less
      // 0 + 0 + 10 + 5 = 15; x 100 / 40 = 37.5
      index: 37.5,
      rating: "poor", // 20 to below 40
    });
  });
});
