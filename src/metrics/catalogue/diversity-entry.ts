import * as z from "zod";
import type { Community } from "../../model/community.ts";
import type { MetricValue } from "../../model/metric-value.ts";
import type { MetricDescription, MetricEntry } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterShape, groupedAt } from "../filter-settings.ts";
import { diversityForm } from "../forms/diversity-form.ts";

/** What a measure of diversity differs in from the next one. */
export type DiversitySpec = Omit<MetricDescription, "whenEmpty" | "needs" | "stress"> &
  Partial<Pick<MetricDescription, "whenEmpty" | "stress">> & {
    readonly measure: (community: Community) => MetricValue;
    /** Where the measure is the entropy in units of the logarithm of a base. */
    readonly entropyBase?: number;
  };

const settings = z.strictObject({ ...filterShape, grouped_at: groupedAt });

/** An entry for a measure of the whole list of counts. */
export function diversityMetric(spec: DiversitySpec): MetricEntry {
  const { measure, entropyBase, ...facts } = spec;
  return defineMetric({
    whenEmpty: "missing",
    stress: "falls",
    needs: ["counts"],
    ...facts,
    settings,
    measure: (chosen, kit) => diversityForm(kit, [chosen], chosen.grouped_at, measure, entropyBase),
  });
}
