import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { Exact } from "../model/exact.ts";
import { compareExact, equalExact, parseDecimal, ZERO } from "../model/exact.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { Limit, Segment } from "../model/segment.ts";
import { sortSegments } from "../scoring/segment-score.ts";
import type { SetFile } from "./folder.ts";
import type { SetRow } from "./set-table.ts";
import { readSetTable } from "./set-table.ts";

/** Columns of thresholds.csv, in the order in which they are written. */
export const THRESHOLD_COLUMNS = [
  "stratum",
  "metric",
  "basis",
  "lower",
  "lower_included",
  "upper",
  "upper_included",
  "score_at_lower",
  "score_at_upper",
  "covariate",
  "lower_slope",
  "upper_slope",
  "note",
] as const;
export type ThresholdColumn = (typeof THRESHOLD_COLUMNS)[number];
type Row = SetRow<ThresholdColumn>;

const REQUIRED = [
  "stratum",
  "metric",
  "lower",
  "lower_included",
  "upper",
  "upper_included",
  "score_at_lower",
  "score_at_upper",
] as const;
const BASES = ["value", "percent-of-reference"] as const;

/** Segments by metric and stratum, each list from low to high. */
export type Thresholds = ReadonlyMap<string, ReadonlyMap<string, readonly Segment[]>>;

/**
 * Reads thresholds.csv: one row a segment. An empty stratum means every stratum of the set; limits are exact
 * decimals; a limit that is given says whether it belongs to the segment.
 *
 * @returns undefined when there was a fault; each is a `bad-set` finding with its line and field
 */
export async function readThresholds(
  file: SetFile,
  definition: SetDefinition,
  findings: FindingSink,
): Promise<Thresholds | undefined> {
  const table = await readSetTable(
    file,
    {
      required: REQUIRED,
      optional: THRESHOLD_COLUMNS.filter((name) => !REQUIRED.some((one) => one === name)),
    },
    findings,
  );
  if (table.isBroken) return undefined;
  const reader = new RowReader(definition, findings);
  const found = new Map<string, Map<string, Segment[]>>();
  for (const row of table.rows) {
    const segment = reader.segment(row);
    if (segment === undefined) continue;
    const stratum = row.text("stratum");
    const strata = stratum === "" ? definition.strata.map((one) => one.id) : [stratum];
    const ofMetric = found.get(row.text("metric")) ?? new Map<string, Segment[]>();
    found.set(row.text("metric"), ofMetric);
    for (const id of strata) {
      const list = ofMetric.get(id) ?? [];
      ofMetric.set(id, list);
      const first = list[0];
      if (first !== undefined && (first.basis !== segment.basis || first.covariate !== segment.covariate)) {
        reader.fault(
          row,
          "basis",
          `all segments of a metric in one stratum have one basis and one covariate; line ${first.line} has others`,
        );
      }
      list.push(segment);
    }
  }
  if (reader.hasFaults) return undefined;
  for (const ofMetric of found.values()) {
    for (const [stratum, list] of ofMetric) ofMetric.set(stratum, sortSegments(list));
  }
  return found;
}

class RowReader {
  readonly #definition: SetDefinition;
  readonly #findings: FindingSink;
  hasFaults = false;

  constructor(definition: SetDefinition, findings: FindingSink) {
    this.#definition = definition;
    this.#findings = findings;
  }

  fault(row: Row, column: ThresholdColumn, message: string): undefined {
    this.hasFaults = true;
    this.#findings.add(finding("bad-set", row.place(column), { message }));
    return undefined;
  }

  segment(row: Row): Segment | undefined {
    this.#names(row);
    const covariate = row.text("covariate");
    const lower = this.#limit(row, "lower", covariate);
    const upper = this.#limit(row, "upper", covariate);
    const scoreAtLower = this.#score(row, "score_at_lower");
    const scoreAtUpper = this.#score(row, "score_at_upper");
    const basis = BASES.find((one) => one === (row.text("basis") || "value"));
    if (basis === undefined)
      this.fault(row, "basis", `the basis must be ${BASES.join(" or ")}, not "${row.text("basis")}"`);
    if (covariate !== "" && !/^(log10:)?[a-z][a-z0-9_]*$/.test(covariate)) {
      this.fault(
        row,
        "covariate",
        `"${covariate}" is no column of a sample log (perhaps with log10: before it)`,
      );
    }
    if (scoreAtLower === undefined || scoreAtUpper === undefined || basis === undefined) return undefined;
    this.#order(row, lower, upper);
    if (!equalExact(scoreAtLower, scoreAtUpper) && (lower === undefined || upper === undefined)) {
      this.fault(
        row,
        lower === undefined ? "lower" : "upper",
        "a line (two different scores) needs both limits",
      );
    }
    return {
      lower,
      upper,
      scoreAtLower,
      scoreAtUpper,
      basis,
      covariate: covariate === "" ? undefined : covariate,
      note: row.text("note"),
      line: row.line,
    };
  }

  #names(row: Row): void {
    const { strata, metrics } = this.#definition;
    const [stratum, metric] = [row.text("stratum"), row.text("metric")];
    if (stratum !== "" && !strata.some((one) => one.id === stratum)) {
      const ids = strata.map((one) => one.id);
      this.fault(
        row,
        "stratum",
        `the set has no stratum "${stratum}"${didYouMean(stratum, ids) || `; it has ${ids.join(", ")}`}`,
      );
    }
    if (!metrics.some((one) => one.id === metric)) {
      const ids = metrics.map((one) => one.id);
      this.fault(
        row,
        "metric",
        `the set has no metric "${metric}"${didYouMean(metric, ids) || `; it has ${ids.join(", ")}`}`,
      );
    }
  }

  #limit(row: Row, side: "lower" | "upper", covariate: string): Limit | undefined {
    const text = row.text(side);
    const included = row.text(`${side}_included`).toLowerCase();
    const slopeText = row.text(`${side}_slope`);
    if (text === "") {
      if (slopeText !== "") this.fault(row, `${side}_slope`, `a slope without a ${side} limit`);
      return undefined;
    }
    const at = parseDecimal(text);
    if (at === undefined) return this.fault(row, side, `"${text}" is not a decimal number`);
    if (included !== "yes" && included !== "no") {
      return this.fault(row, `${side}_included`, `say yes or no: does ${text} itself belong to the segment?`);
    }
    if (slopeText === "") return { at, included: included === "yes" };
    const slope = parseDecimal(slopeText);
    if (slope === undefined)
      return this.fault(row, `${side}_slope`, `"${slopeText}" is not a decimal number`);
    if (covariate === "") return this.fault(row, "covariate", "a slope needs a covariate");
    return { at, included: included === "yes", slope };
  }

  #score(row: Row, column: "score_at_lower" | "score_at_upper"): Exact | undefined {
    const text = row.text(column);
    return (
      parseDecimal(text) ??
      this.fault(row, column, text === "" ? "a score is missing" : `"${text}" is not a decimal number`)
    );
  }

  #order(row: Row, lower: Limit | undefined, upper: Limit | undefined): void {
    if (lower === undefined || upper === undefined) return;
    // With different slopes the order depends on the covariate and can only be seen sample by sample.
    if (!equalExact(lower.slope ?? ZERO, upper.slope ?? ZERO)) return;
    const order = compareExact(lower.at, upper.at);
    if (order > 0) this.fault(row, "lower", "the lower limit lies above the upper one");
    if (order === 0 && !(lower.included && upper.included)) {
      this.fault(row, "lower", "no value lies in this segment: both limits are equal, and one is left out");
    }
  }
}
