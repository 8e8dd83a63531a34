import type { OracleRow } from "./oracle-taxa.ts";
import { inside, textOf, tolerance } from "./oracle-taxa.ts";

type Test = (row: OracleRow) => boolean;

const ept: Test = (row) => inside(row, "Ephemeroptera", "Plecoptera", "Trichoptera");
const has = (attribute: "feeding_group" | "habit" | "life_cycle" | "origin", ...texts: string[]): Test => {
  return (row) => texts.includes(textOf(row, attribute) ?? "");
};
const upTo =
  (limit: number): Test =>
  (row) =>
    (tolerance(row) ?? Number.POSITIVE_INFINITY) <= limit;
const from =
  (limit: number): Test =>
  (row) =>
    (tolerance(row) ?? Number.NEGATIVE_INFINITY) >= limit;
const group =
  (...names: string[]): Test =>
  (row) =>
    inside(row, ...names);

/** Metrics that count taxa: which rows they count. */
export const COUNTED_TAXA: Readonly<Record<string, Test>> = {
  taxa_richness: () => true,
  ept_richness: ept,
  ept_richness_without_hydropsychidae: (row) => ept(row) && !inside(row, "Hydropsychidae"),
  ept_richness_without_hydroptilidae: (row) => ept(row) && !inside(row, "Hydroptilidae"),
  sensitive_ept_richness: (row) => ept(row) && upTo(4)(row),
  intolerant_richness: upTo(2),
  tolerant_richness: from(7),
  ephemeroptera_richness: group("Ephemeroptera"),
  plecoptera_richness: group("Plecoptera"),
  trichoptera_richness: group("Trichoptera"),
  coleoptera_richness: group("Coleoptera"),
  elmidae_richness: group("Elmidae"),
  diptera_richness: group("Diptera"),
  chironomidae_richness: group("Chironomidae"),
  tanytarsini_richness: group("Tanytarsini"),
  orthocladiinae_richness: group("Orthocladiinae"),
  odonata_richness: group("Odonata"),
  hemiptera_richness: group("Hemiptera"),
  megaloptera_richness: group("Megaloptera"),
  insect_richness: group("Insecta"),
  non_insect_richness: (row) => !inside(row, "Insecta"),
  oligochaeta_richness: group("Oligochaeta"),
  mollusca_richness: group("Mollusca"),
  gastropoda_richness: group("Gastropoda"),
  crustacea_richness: group("Crustacea"),
  crustacea_and_mollusca_richness: group("Crustacea", "Mollusca"),
  scraper_richness: has("feeding_group", "scraper"),
  shredder_richness: has("feeding_group", "shredder"),
  predator_richness: has("feeding_group", "predator"),
  filterer_richness: has("feeding_group", "collector-filterer"),
  gatherer_richness: has("feeding_group", "collector-gatherer"),
  omnivore_richness: has("feeding_group", "omnivore"),
  clinger_richness: has("habit", "clinger"),
  burrower_richness: has("habit", "burrower"),
  climber_richness: has("habit", "climber"),
  sprawler_richness: has("habit", "sprawler"),
  swimmer_richness: has("habit", "swimmer"),
  long_lived_richness: has("life_cycle", "semivoltine"),
  univoltine_richness: has("life_cycle", "univoltine"),
  multivoltine_richness: has("life_cycle", "multivoltine"),
  nonnative_richness: has("origin", "invasive", "nonnative"),
};

/** Percentages of animals, and shares from 0 to 1: part and whole. */
export const SHARES: Readonly<Record<string, { part: Test; whole?: Test; times?: 1 }>> = {
  percent_individuals: { part: group("Hydropsychidae") },
  fraction_of_individuals: { part: group("Hydropsychidae"), times: 1 },
  percent_ept: { part: ept },
  percent_ept_without_hydropsychidae: { part: (row) => ept(row) && !inside(row, "Hydropsychidae") },
  percent_ephemeroptera: { part: group("Ephemeroptera") },
  percent_plecoptera: { part: group("Plecoptera") },
  percent_trichoptera: { part: group("Trichoptera") },
  percent_plecoptera_and_trichoptera_without_hydropsychidae: {
    part: (row) => inside(row, "Plecoptera", "Trichoptera") && !inside(row, "Hydropsychidae"),
  },
  percent_coleoptera: { part: group("Coleoptera") },
  percent_elmidae: { part: group("Elmidae") },
  percent_odonata: { part: group("Odonata") },
  percent_diptera: { part: group("Diptera") },
  percent_chironomidae: { part: group("Chironomidae") },
  percent_tanytarsini: { part: group("Tanytarsini") },
  percent_simuliidae: { part: group("Simuliidae") },
  percent_other_diptera_and_non_insects: {
    part: (row) => (inside(row, "Diptera") || !inside(row, "Insecta")) && !inside(row, "Tanytarsini"),
  },
  percent_non_insects: { part: (row) => !inside(row, "Insecta") },
  percent_oligochaeta: { part: group("Oligochaeta") },
  percent_amphipoda: { part: group("Amphipoda") },
  percent_isopoda: { part: group("Isopoda") },
  percent_crustacea_and_mollusca: { part: group("Crustacea", "Mollusca") },
  percent_gastropoda: { part: group("Gastropoda") },
  percent_corbicula: { part: group("Corbicula") },
  percent_scrapers: { part: has("feeding_group", "scraper") },
  percent_shredders: { part: has("feeding_group", "shredder") },
  percent_predators: { part: has("feeding_group", "predator") },
  percent_filterers: { part: has("feeding_group", "collector-filterer") },
  percent_gatherers: { part: has("feeding_group", "collector-gatherer") },
  percent_omnivores: { part: has("feeding_group", "omnivore") },
  percent_clingers: { part: has("habit", "clinger") },
  percent_burrowers: { part: has("habit", "burrower") },
  percent_climbers: { part: has("habit", "climber") },
  percent_sprawlers: { part: has("habit", "sprawler") },
  percent_swimmers: { part: has("habit", "swimmer") },
  percent_univoltine: { part: has("life_cycle", "univoltine") },
  percent_multivoltine: { part: has("life_cycle", "multivoltine") },
  percent_long_lived: { part: has("life_cycle", "semivoltine") },
  percent_nonnative: { part: has("origin", "invasive", "nonnative") },
  percent_intolerant: { part: upTo(2) },
  percent_tolerant: { part: from(7) },
  shredder_to_total_ratio: { part: has("feeding_group", "shredder"), times: 1 },
  ept_to_total_ratio: { part: ept, times: 1 },
  ept_share_of_ept_and_chironomidae: {
    part: ept,
    whole: (row) => ept(row) || inside(row, "Chironomidae"),
    times: 1,
  },
  scraper_share_of_scrapers_and_filterers: {
    part: has("feeding_group", "scraper"),
    whole: has("feeding_group", "scraper", "collector-filterer"),
    times: 1,
  },
  percent_hydropsychidae_of_trichoptera: { part: group("Hydropsychidae"), whole: group("Trichoptera") },
  percent_baetidae_of_ephemeroptera: { part: group("Baetidae"), whole: group("Ephemeroptera") },
  percent_tanytarsini_of_chironomidae: { part: group("Tanytarsini"), whole: group("Chironomidae") },
  percent_orthocladiinae_of_chironomidae: { part: group("Orthocladiinae"), whole: group("Chironomidae") },
  percent_with_tolerance_value: { part: (row) => tolerance(row) !== undefined },
};

/** Percentages of taxa: which rows they count. */
export const SHARES_OF_TAXA: Readonly<Record<string, Test>> = {
  percent_taxa: group("Hydropsychidae"),
  percent_ept_taxa: ept,
  percent_chironomidae_taxa: group("Chironomidae"),
  percent_non_insect_taxa: (row) => !inside(row, "Insecta"),
  percent_clinger_taxa: has("habit", "clinger"),
  percent_intolerant_taxa: upTo(2),
  percent_tolerant_taxa: from(7),
};

/** Ratios without a value where nothing stands below: what stands above and below. */
export const RATIOS: Readonly<Record<string, { above: Test; below: Test }>> = {
  individuals_ratio: { above: group("Ephemeroptera"), below: group("Trichoptera") },
  ept_to_chironomidae_ratio: { above: ept, below: group("Chironomidae") },
  scraper_to_filterer_ratio: {
    above: has("feeding_group", "scraper"),
    below: has("feeding_group", "collector-filterer"),
  },
};
