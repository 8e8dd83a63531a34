import type { OutputRow } from "../../files/formats/define.ts";
import { entryOf } from "../../model/entry-of.ts";
import { toNumber } from "../../model/exact.ts";
import type { TaxonTree } from "../../model/taxon-tree.ts";
import { controlCharts } from "../../quality/control-chart.ts";
import { sortDisagreements } from "../../quality/disagreements.ts";
import { figureText } from "../../quality/figure-text.ts";
import type { IdentificationRules } from "../../quality/identification.ts";
import type { RecheckedSample, TaxonomistSummary } from "../../quality/identification-batch.ts";
import { disputedTaxa, summariseSamples, summariseTaxonomists } from "../../quality/identification-batch.ts";
import type { QualityLimit } from "../../quality/judgement.ts";
import { judge } from "../../quality/judgement.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import { identificationRuleTexts } from "./identification-rules.ts";
import type { RefusedComparison } from "./identification-run.ts";
import type { QualityRun } from "./quality-run.ts";
import { cell, countText, number, text } from "./quality-run.ts";

/** What the tables are made of. */
export interface IdentificationResult {
  readonly samples: readonly RecheckedSample[];
  readonly refused: readonly RefusedComparison[];
  /** Who named the second sheet, by sample. */
  readonly checkers: ReadonlyMap<string, string>;
  readonly tree: TaxonTree;
  readonly rules: IdentificationRules;
  readonly gainsLimit: QualityLimit | undefined;
}

/** Tables, charts and sentences of a re-identification. */
export function identificationReport(
  result: IdentificationResult,
): Pick<QualityRun, "tables" | "charts" | "summary" | "rules"> {
  const { samples, rules } = result;
  const failed = samples.filter(({ figures }) => figures.outcome === "fail").length;
  const refused = result.refused.length === 0 ? "" : `, ${result.refused.length} refused`;
  const all = summariseSamples("all", samples);
  const means =
    all.meanDisagreement === undefined || all.meanDisagreementWithoutHierarchical === undefined
      ? ""
      : `; mean PTD ${figureText(all.meanDisagreement)} percent, ${figureText(all.meanDisagreementWithoutHierarchical)} without hierarchical disagreements`;
  return {
    tables: [samplesTable(result), disagreementsTable(result), taxonomistsTable(result), taxaTable(result)],
    charts: charts(samples, rules),
    summary: `${countText(samples.length, "sample")} compared: ${samples.length - failed} within the limits, ${failed} not${refused}${means}`,
    rules: identificationRuleTexts(rules),
  };
}

function samplesTable({ samples, refused, checkers, rules }: IdentificationResult): QualityTable {
  const rows = samples.map(({ figures, taxonomist, date, disagreements }): OutputRow => {
    const { matching } = figures;
    return [
      figures.sampleId,
      taxonomist,
      entryOf(checkers, figures.sampleId),
      date,
      matching.primaryTotal,
      matching.recheckTotal,
      matching.agreements,
      cell(figures.enumerationDifference),
      rules.enumerationLimit === undefined ? "" : figures.enumerationJudgement.outcome,
      cell(figures.disagreement),
      cell(figures.disagreementWithoutHierarchical),
      rules.disagreementLimit === undefined ? "" : figures.disagreementJudgement.outcome,
      cell(figures.agreement),
      cell(figures.completenessPrimary),
      cell(figures.completenessRecheck),
      cell(figures.completenessDifference),
      cell(figures.brayCurtis),
      cell(figures.percentSimilarity),
      figures.gains,
      figures.losses,
      disagreements.length,
      figures.outcome,
      "",
    ];
  });
  const empty = Array.from({ length: 17 }, () => null);
  const refusedRows = refused.map(
    ({ sampleId, codes }): OutputRow => [sampleId, "", "", "", ...empty, "refused", codes.join(";")],
  );
  return {
    id: "samples",
    title: "Samples",
    explains:
      "One row a sample that is on both sheets. date is the day of identification, else of collection. Percentages; PDE and PTD are held against their limits, similarities are 100 for identical sheets.",
    brief: [
      "sample_id",
      "taxonomist",
      "animals_primary",
      "animals_recheck",
      "pde",
      "ptd",
      "ptd_without_hierarchical",
      "outcome",
    ],
    columns: [
      text("sample_id"),
      text("taxonomist"),
      text("rechecked_by"),
      text("date"),
      number("animals_primary"),
      number("animals_recheck"),
      number("agreements"),
      number("pde"),
      text("pde_outcome"),
      number("ptd"),
      number("ptd_without_hierarchical"),
      text("ptd_outcome"),
      number("pta"),
      number("ptc_primary"),
      number("ptc_recheck"),
      number("ptc_difference"),
      number("bray_curtis_similarity"),
      number("percent_similarity"),
      number("families_gained"),
      number("families_lost"),
      number("disagreements"),
      text("outcome"),
      text("refused_because"),
    ],
    rows: [...rows, ...refusedRows],
  };
}

function disagreementsTable({ samples, tree }: IdentificationResult): QualityTable {
  const all = sortDisagreements(
    samples.flatMap(({ disagreements }) => disagreements),
    tree,
  );
  const people = new Map(samples.map(({ figures, taxonomist }) => [figures.sampleId, taxonomist]));
  const name = (taxon: number | undefined) => (taxon === undefined ? "" : tree.nameOf(taxon));
  return {
    id: "disagreements",
    title: "Disagreements",
    explains:
      "Every disagreement, the most animals first: different-name (two names, not on one line), coarser (one line of the tree, one sheet less exact), number (same name, more animals on one sheet), missed (on one sheet only). ptd_points is its part of the sample's PTD.",
    brief: ["sample_id", "kind", "primary_name", "recheck_name", "animals", "ptd_points"],
    columns: [
      text("sample_id"),
      text("taxonomist"),
      text("kind"),
      text("primary_name"),
      text("recheck_name"),
      number("animals"),
      number("ptd_points"),
      number("primary_count"),
      number("recheck_count"),
      text("coarser_sheet"),
      text("common_taxon"),
    ],
    rows: all.map((row) => [
      row.sampleId,
      entryOf(people, row.sampleId),
      row.kind,
      name(row.primary),
      name(row.recheck),
      row.animals,
      toNumber(row.weight),
      row.primaryCount,
      row.recheckCount,
      row.coarser ?? "",
      name(row.commonTaxon),
    ]),
  };
}

function taxonomistsTable({ samples, gainsLimit }: IdentificationResult): QualityTable {
  const row = (one: TaxonomistSummary): OutputRow => [
    one.taxonomist,
    one.samples,
    one.failed,
    one.animals,
    cell(one.meanEnumerationDifference),
    cell(one.meanDisagreement),
    cell(one.meanDisagreementWithoutHierarchical),
    cell(one.pooledDisagreement),
    cell(one.meanBrayCurtis),
    cell(one.meanPercentSimilarity),
    cell(one.meanGains),
    gainsLimit === undefined ? "" : judge(one.meanGains, gainsLimit).outcome,
    one.outcome,
  ];
  return {
    id: "taxonomists",
    title: "Taxonomists",
    explains:
      "One row a taxonomist of the first sheet and one for all. Means give every sample the same weight, ptd_pooled every animal.",
    brief: [
      "taxonomist",
      "samples",
      "samples_failed",
      "pde_mean",
      "ptd_mean",
      "ptd_mean_without_hierarchical",
      "outcome",
    ],
    columns: [
      text("taxonomist"),
      number("samples"),
      number("samples_failed"),
      number("animals"),
      number("pde_mean"),
      number("ptd_mean"),
      number("ptd_mean_without_hierarchical"),
      number("ptd_pooled"),
      number("bray_curtis_mean"),
      number("percent_similarity_mean"),
      number("families_gained_mean"),
      text("gains_outcome"),
      text("outcome"),
    ],
    rows: [...summariseTaxonomists(samples).map(row), row(summariseSamples("(all)", samples))],
  };
}

function taxaTable({ samples, tree }: IdentificationResult): QualityTable {
  return {
    id: "taxa",
    title: "Disputed names",
    explains:
      "Names that were disputed at least once, most disputed animals first, with the name most often found instead.",
    brief: ["taxon", "samples_disputed", "agreed", "disputed", "percent_disputed", "most_often_instead"],
    columns: [
      text("taxon"),
      text("rank"),
      number("samples"),
      number("samples_disputed"),
      number("animals_primary"),
      number("animals_recheck"),
      number("agreed"),
      number("disputed"),
      number("percent_disputed"),
      text("most_often_instead"),
    ],
    rows: disputedTaxa(samples, tree).map((one) => [
      tree.nameOf(one.taxon),
      tree.operational.has(one.taxon) ? "operational" : tree.rankOf(one.taxon),
      one.samples,
      one.disputedSamples,
      one.animalsPrimary,
      one.animalsRecheck,
      one.agreed,
      one.disputed,
      toNumber(one.percentDisputed),
      one.mostOftenInstead === undefined ? "" : tree.nameOf(one.mostOftenInstead),
    ]),
  };
}

function charts(samples: readonly RecheckedSample[], rules: IdentificationRules) {
  const points = (figure: "pde" | "ptd") =>
    samples.map(({ figures, taxonomist, date }) => {
      const counted =
        rules.hierarchical === "count" ? figures.disagreement : figures.disagreementWithoutHierarchical;
      const value = figure === "pde" ? figures.enumerationDifference : counted;
      const { outcome } = figure === "pde" ? figures.enumerationJudgement : figures.disagreementJudgement;
      return {
        person: taxonomist,
        sampleId: figures.sampleId,
        date,
        value: value === undefined ? undefined : toNumber(value),
        outcome,
      };
    });
  const limit = (one: QualityLimit | undefined) => (one === undefined ? undefined : toNumber(one.at));
  return [
    ...controlCharts(points("ptd"), {
      figure: "Taxonomic disagreement (PTD)",
      limit: limit(rules.disagreementLimit),
      side: "at-most",
    }),
    ...controlCharts(points("pde"), {
      figure: "Difference in enumeration (PDE)",
      limit: limit(rules.enumerationLimit),
      side: "at-most",
    }),
  ];
}
