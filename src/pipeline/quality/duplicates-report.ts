import type { OutputRow } from "../../files/formats/define.ts";
import { at } from "../../model/at.ts";
import { toNumber } from "../../model/exact.ts";
import type { DuplicateGroup } from "../../quality/duplicate-groups.ts";
import type { DuplicateSummary } from "../../quality/duplicates.ts";
import { figureText } from "../../quality/figure-text.ts";
import type { RatingAgreement } from "../../quality/rating-agreement.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import type { DuplicateChoices } from "./duplicates-run.ts";
import type { QualityRun } from "./quality-run.ts";
import { cell, countText, number, text } from "./quality-run.ts";

export interface DuplicateResult extends DuplicateChoices {
  readonly groups: readonly DuplicateGroup[];
  /** Ratings of each group, in the order of its samples. */
  readonly ratings: readonly (readonly string[])[];
  readonly measures: readonly DuplicateSummary[];
  readonly agreement: RatingAgreement;
  readonly hasRatings: boolean;
}

/** Tables and sentences of a check of duplicates. */
export function duplicatesReport(
  result: DuplicateResult,
): Pick<QualityRun, "tables" | "charts" | "summary" | "rules"> {
  const { groups, measures, agreement, limit } = result;
  const index = measures.find(({ measure }) => measure === "index");
  const parts = [`${countText(groups.length, "group")} of duplicates`];
  if (index?.precision !== undefined)
    parts.push(`within-site SD of the index ${round(index.precision.standardDeviation)}`);
  if (agreement.percentDiffering !== undefined)
    parts.push(
      `rating differs in ${agreement.differing} of ${countText(agreement.pairs, "pair")} (${figureText(agreement.percentDiffering)} percent)`,
    );
  if (index !== undefined && limit !== undefined)
    parts.push(`${index.failed} over the RPD limit of ${figureText(limit.at)} percent`);
  return {
    tables: [precisionTable(result), pairsTable(result), intervalsTable(result), ratingsTable(result)],
    charts: [],
    summary: parts.join("; "),
    rules: [
      `Relative percent difference (RPD) = 100 x |a - b| / ((a + b) / 2)${limit === undefined ? "; no limit" : `; limit ${figureText(limit.at)} percent for ${result.limitsMetrics ? "the index and every metric" : "the index"}, which passes itself (US EPA, measurement quality objectives for biological indicators)`}. In groups of three and more it is that of the smallest and the largest value. Two zeros have none.`,
      "Within-site standard deviation: root mean square error of a one-way analysis of variance with sites as treatments (Barbour and others 1999, EPA 841-B-99-002, chapter 9), from groups of two and more.",
      "90 percent interval around the mean of n samples: Student's t with the pooled degrees of freedom x SD / square root of n; 'normal' takes the published factor 1.645 instead. A difference between two samples must be larger by the square root of two; power 80 means found four times out of five.",
      `Groups: ${result.links === "both" ? "the columns duplicate_of and replicate_of" : `the column ${result.links}`} of the sample log.`,
    ],
  };
}

/** Whether a measure is held against the limit. */
function isLimited({ limit, limitsMetrics }: DuplicateResult, measure: string): boolean {
  return limit !== undefined && (limitsMetrics || measure === "index");
}

function precisionTable(result: DuplicateResult): QualityTable {
  const { measures } = result;
  const sizes = [1, 2, 3];
  return {
    id: "precision",
    title: "Precision",
    explains:
      "One row a measure, pooled over all groups with two values. interval90_n is the half width of the 90 percent interval around the mean of n samples, and the least difference from a fixed limit; between_n the least difference between two such means.",
    brief: [
      "measure",
      "groups",
      "mean",
      "within_site_sd",
      "cv_percent",
      "mean_rpd_percent",
      "interval90_1",
      "between_1",
    ],
    columns: [
      text("measure"),
      number("groups"),
      number("samples"),
      number("degrees_of_freedom"),
      number("mean"),
      number("within_site_sd"),
      number("cv_percent"),
      number("mean_rpd_percent"),
      number("groups_over_limit"),
      ...sizes.map((n) => number(`interval90_${n}`)),
      ...sizes.map((n) => number(`interval90_normal_${n}`)),
      ...sizes.map((n) => number(`between_${n}`)),
    ],
    rows: measures.map(({ measure, precision, detectable, meanRelativeDifference, failed }): OutputRow => {
      const each = (pick: (one: (typeof detectable)[number]) => number) =>
        sizes.map((_, at) => {
          const one = detectable[at];
          return one === undefined ? null : pick(one);
        });
      return [
        measure,
        precision?.groups ?? 0,
        precision?.samples ?? 0,
        precision?.degreesOfFreedom ?? 0,
        cell(precision?.mean),
        precision?.standardDeviation ?? null,
        precision?.coefficientOfVariation ?? null,
        cell(meanRelativeDifference),
        isLimited(result, measure) ? failed : null,
        ...each((one) => one.halfWidth),
        ...each((one) => one.halfWidthNormal),
        ...each((one) => one.betweenTwo),
      ];
    }),
  };
}

function pairsTable(result: DuplicateResult): QualityTable {
  const { measures } = result;
  return {
    id: "pairs",
    title: "Pairs and larger groups",
    explains:
      "One row a group and measure, with its relative percent difference and what the limit makes of it.",
    brief: ["primary", "measure", "values", "rpd_percent", "outcome", "why_not"],
    columns: [
      text("primary"),
      text("samples"),
      text("measure"),
      text("values"),
      number("mean"),
      number("sd"),
      number("cv_percent"),
      number("rpd_percent"),
      text("outcome"),
      number("over_by"),
      text("without_value"),
      text("why_not"),
    ],
    rows: measures.flatMap(({ measure, figures }) =>
      figures.map(
        (one): OutputRow => [
          one.primary,
          one.sampleIds.join(";"),
          measure,
          one.values.map((value) => String(toNumber(value))).join(";"),
          cell(one.spread?.mean),
          one.spread?.standardDeviation ?? null,
          one.spread?.coefficientOfVariation ?? null,
          cell(one.relativeDifference),
          isLimited(result, measure) || one.whyNot !== undefined ? one.judgement.outcome : "",
          cell(one.judgement.missedBy),
          one.withoutValue.join(";"),
          one.whyNot ?? "",
        ],
      ),
    ),
  };
}

function intervalsTable({ measures }: DuplicateResult): QualityTable {
  return {
    id: "intervals",
    title: "What samples can tell",
    explains:
      "One row a measure and number of samples averaged: half width of the 90 percent interval, least difference from a fixed limit (also with 80 percent power), and between two means; by Student's t and by the published normal factors 1.645 and 0.842.",
    brief: ["measure", "samples", "interval90", "interval90_normal", "from_limit_power80", "between"],
    columns: [
      text("measure"),
      number("samples"),
      number("interval90"),
      number("interval90_normal"),
      number("from_limit"),
      number("from_limit_power80"),
      number("from_limit_power80_normal"),
      number("between"),
      number("between_normal"),
    ],
    rows: measures.flatMap(({ measure, detectable }) =>
      detectable.map(
        (one): OutputRow => [
          measure,
          one.samples,
          one.halfWidth,
          one.halfWidthNormal,
          one.fromLimit,
          one.fromLimitPower80,
          one.fromLimitPower80Normal,
          one.betweenTwo,
          one.betweenTwoNormal,
        ],
      ),
    ),
  };
}

function ratingsTable({ groups, ratings, agreement, hasRatings }: DuplicateResult): QualityTable {
  const rows = groups.map((group, number): OutputRow => {
    const own = at(ratings, number);
    const known = new Set(own.filter((rating) => rating !== ""));
    const outcome =
      own.filter((rating) => rating !== "").length < 2
        ? "not-computable"
        : known.size === 1
          ? "same"
          : "differs";
    return [group.primary, group.sampleIds.join(";"), own.map((rating) => rating || "-").join(";"), outcome];
  });
  const share =
    agreement.percentDiffering === undefined
      ? "No pair has two ratings."
      : `The rating differs in ${agreement.differing} of ${countText(agreement.pairs, "pair")} (${figureText(agreement.percentDiffering)} percent); a group of three makes three pairs.`;
  return {
    id: "ratings",
    title: "Ratings",
    explains: hasRatings ? share : "The scores have no ratings.",
    brief: ["primary", "ratings", "outcome"],
    columns: [text("primary"), text("samples"), text("ratings"), text("outcome")],
    rows,
  };
}

function round(value: number): string {
  return String(Number(value.toFixed(2)));
}
