import { COUNTED_TAXA, RATIOS, SHARES, SHARES_OF_TAXA } from "./oracle-groups.ts";
import type { OracleMetric } from "./oracle-measures.ts";
import {
  ace,
  animals,
  CLASS_SCORES,
  chao,
  chaoError,
  classScores,
  common,
  countIn,
  divide,
  dominant,
  expected,
  expectedError,
  fisher,
  isTaxon,
  logFactorial,
  mcintosh,
  meanTolerance,
  pairs,
  points,
  present,
  richness,
  scored,
  shannon,
  squares,
  sum,
  times,
  weighted,
} from "./oracle-measures.ts";
import type { OracleRow } from "./oracle-taxa.ts";
import { inside, line } from "./oracle-taxa.ts";

const unlessEmpty = (rows: readonly OracleRow[], value: number | undefined) =>
  animals(rows) === 0 ? undefined : value;
const familyOf = (taxon: string) => line(taxon).find((name) => name.endsWith("idae")) ?? taxon;
const families = (rows: readonly OracleRow[]) =>
  new Set(isTaxon(rows).map(({ taxon }) => familyOf(taxon))).size;
const EPT = ["Ephemeroptera", "Plecoptera", "Trichoptera"];

/** Every metric of the catalogue once more, with the settings of ORACLE_SETTINGS. */
export const ORACLE: Readonly<Record<string, OracleMetric>> = {
  ...mapped(COUNTED_TAXA, (test) => (rows) => richness(rows.filter(test))),
  ...mapped(SHARES, ({ part, whole, times: factor }) => (rows) => {
    const all = whole === undefined ? rows : rows.filter(whole);
    return times(factor ?? 100, divide(animals(all.filter(part)), animals(all)));
  }),
  ...mapped(
    SHARES_OF_TAXA,
    (test) => (rows) => times(100, divide(richness(rows.filter(test)), richness(rows))),
  ),
  ...mapped(
    RATIOS,
    ({ above, below }) =>
      (rows) =>
        divide(animals(rows.filter(above)), animals(rows.filter(below))),
  ),
  taxa_ratio: (rows) =>
    divide(
      richness(rows.filter((row) => inside(row, "Ephemeroptera"))),
      richness(rows.filter((row) => inside(row, "Plecoptera"))),
    ),
  family_richness: families,
  ept_family_richness: (rows) => families(rows.filter((row) => inside(row, ...EPT))),
  percent_dominant_taxon: dominant(1),
  percent_two_dominant_taxa: dominant(2),
  percent_three_dominant_taxa: dominant(3),
  percent_four_dominant_taxa: dominant(4),
  percent_five_dominant_taxa: dominant(5),
  percent_dominant_taxa: dominant(6),
  berger_parker_dominance: (rows) => times(0.01, dominant(1)(rows, [])),
  tolerance_index: (rows) => meanTolerance(rows, Number.POSITIVE_INFINITY),
  tolerance_index_10_max: (rows) => meanTolerance(rows, 10),
  sum_of_scores: (rows) => sum(scored(rows).map(({ score }) => score)),
  number_of_scoring_taxa: (rows) => scored(rows).length,
  average_score_per_taxon: (rows) => divide(sum(scored(rows).map(({ score }) => score)), scored(rows).length),
  mci: (rows) => times(20, divide(sum(scored(rows).map(({ score }) => score)), scored(rows).length)),
  pollution_tolerance_index: (rows) => sum(scored(rows).map(({ score }) => score)),
  weighted_average_score: weighted([
    [1, 1],
    [3, 3],
    [10, 10],
  ]),
  signal_weighted: weighted([
    [1, 1],
    [3, 2],
    [6, 3],
    [11, 4],
    [21, 5],
  ]),
  sqmci: weighted([
    [1, 1],
    [5, 5],
    [20, 20],
    [100, 100],
    [500, 500],
  ]),
  sum_of_abundance_class_scores: (rows) => sum(classScores(rows)),
  average_abundance_class_score: (rows) => divide(sum(classScores(rows)), classScores(rows).length),
  taxa_points: (rows) =>
    2 * richness(rows.filter((row) => inside(row, "Plecoptera", "Trichoptera"))) +
    richness(rows.filter((row) => inside(row, "Ephemeroptera"))),
  becks_index: points((value) => (value <= 1 ? 2 : value <= 4 ? 1 : 0)),
  becks_index_v3: points((value) => Math.max(0, 3 - Math.floor(value + 0.5))),
  shannon_diversity_e: shannon,
  shannon_diversity_2: (rows) => times(1 / Math.LN2, shannon(rows)),
  shannon_diversity_10: (rows) => times(1 / Math.LN10, shannon(rows)),
  pielou_evenness: (rows) =>
    times(1 / Math.log(present(rows).length), present(rows).length < 2 ? undefined : shannon(rows)),
  brillouin_diversity: (rows) =>
    divide(logFactorial(animals(rows)) - sum(rows.map(({ count }) => logFactorial(count))), animals(rows)),
  mcintosh_diversity: (rows) => mcintosh(rows, (total) => Math.sqrt(total)),
  mcintosh_evenness: (rows) => mcintosh(rows, (total, taxa) => total / Math.sqrt(taxa)),
  margalef_richness: (rows) =>
    animals(rows) < 2 ? undefined : Math.max(0, richness(rows) - 1) / Math.log(animals(rows)),
  menhinick_richness: (rows) => divide(richness(rows), Math.sqrt(animals(rows))),
  fisher_alpha: fisher,
  simpson_sum_of_squares: squares,
  simpson_finite_sum: pairs,
  simpson_one_minus_sum_of_squares: (rows) => oneMinus(squares(rows)),
  simpson_one_minus_finite_sum: (rows) => oneMinus(pairs(rows)),
  simpson_one_over_sum_of_squares: (rows) => inverse(squares(rows)),
  simpson_one_over_finite_sum: (rows) => inverse(pairs(rows)),
  hill_0: (rows) => present(rows).length,
  hill_1: (rows) => {
    const entropy = shannon(rows);
    return entropy === undefined ? undefined : Math.exp(entropy);
  },
  hill_2: (rows) => inverse(squares(rows)),
  expected_richness: expected(10),
  expected_richness_standard_error: expectedError(10),
  chao1: chao,
  chao1_standard_error: chaoError,
  ace,
  percent_model_affinity: (rows) => {
    const model = {
      Ephemeroptera: 40,
      Plecoptera: 5,
      Trichoptera: 10,
      Coleoptera: 10,
      Chironomidae: 20,
      Oligochaeta: 5,
    };
    const names = Object.keys(model);
    const percent = (part: readonly OracleRow[]) => (100 * animals(part)) / animals(rows);
    const other = percent(rows.filter((row) => !inside(row, ...names)));
    // The published shortcut: 100 less half of the sum of differences.
    const differences = Object.entries(model).map(([name, share]) =>
      Math.abs(share - percent(rows.filter((row) => inside(row, name)))),
    );
    return unlessEmpty(rows, 100 - (sum(differences) + Math.abs(10 - other)) / 2);
  },
  percent_similarity: (rows, reference) =>
    unlessEmpty(
      rows,
      100 -
        50 *
          sum(
            [...new Set([...rows, ...reference].map(({ taxon }) => taxon))].map((taxon) =>
              Math.abs(countIn(rows, taxon) / animals(rows) - countIn(reference, taxon) / animals(reference)),
            ),
          ),
    ),
  bray_curtis_dissimilarity: (rows, reference) => {
    const names = [...new Set([...rows, ...reference].map(({ taxon }) => taxon))];
    const differences = names.map((taxon) => Math.abs(countIn(rows, taxon) - countIn(reference, taxon)));
    return unlessEmpty(rows, sum(differences) / (animals(rows) + animals(reference)));
  },
  jaccard_similarity: (rows, reference) => {
    const [a, b, c] = common(rows, reference);
    return a === 0 ? undefined : c / (a + b - c);
  },
  sorensen_similarity: (rows, reference) => {
    const [a, b, c] = common(rows, reference);
    return a === 0 ? undefined : (2 * c) / (a + b);
  },
  community_loss: (rows, reference) => {
    const [a, b, c] = common(rows, reference);
    return divide(b - c, a);
  },
  individuals: animals,
  estimated_total: (rows) => animals(rows) / 0.25,
  density_per_m2: (rows) => animals(rows) / 0.25 / 0.5,
};

/** Settings under which both implementations work; metrics that are not here have none. */
export const ORACLE_SETTINGS: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  percent_individuals: { within: "Hydropsychidae" },
  fraction_of_individuals: { within: "Hydropsychidae" },
  percent_taxa: { within: ["Hydropsychidae"] },
  sensitive_ept_richness: { limit: 4 },
  intolerant_richness: { limit: 2 },
  tolerant_richness: { limit: 7 },
  percent_intolerant: { limit: 2 },
  percent_tolerant: { limit: 7 },
  percent_intolerant_taxa: { limit: 2 },
  percent_tolerant_taxa: { limit: 7 },
  individuals_ratio: { above: { within: "Ephemeroptera" }, below: { within: "Trichoptera" } },
  taxa_ratio: { above: { within: "Ephemeroptera" }, below: { within: "Plecoptera" } },
  percent_dominant_taxa: { taxa: 6 },
  weighted_average_score: {
    classes: [
      { from: 1, weight: 1 },
      { from: 3, weight: 3 },
      { from: 10, weight: 10 },
    ],
  },
  sum_of_abundance_class_scores: { class_starts: [1, 10, 100], scores: Object.fromEntries(CLASS_SCORES) },
  average_abundance_class_score: { class_starts: [1, 10, 100], scores: Object.fromEntries(CLASS_SCORES) },
  taxa_points: {
    classes: [
      { points: 2, within: ["Plecoptera", "Trichoptera"] },
      { points: 1, within: "Ephemeroptera" },
    ],
  },
  becks_index: { class_1_at_most: 1, class_2_at_most: 4 },
  expected_richness: { animals: 10 },
  expected_richness_standard_error: { animals: 10 },
};

function mapped<T>(
  table: Readonly<Record<string, T>>,
  make: (item: T) => OracleMetric,
): Record<string, OracleMetric> {
  return Object.fromEntries(Object.entries(table).map(([id, item]) => [id, make(item)]));
}

function oneMinus(value: number | undefined): number | undefined {
  return value === undefined ? undefined : 1 - value;
}

function inverse(value: number | undefined): number | undefined {
  return value === undefined || value === 0 ? undefined : 1 / value;
}
