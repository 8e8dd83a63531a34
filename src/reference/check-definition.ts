import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { ReadDefinition } from "./read-definition.ts";

/** What the schema cannot say: names that must meet, methods that need something. */
export function checkDefinition({ definition, placeOf }: ReadDefinition, findings: FindingSink): void {
  const fault = (path: readonly (string | number)[], message: string): void =>
    findings.add(finding("bad-set", placeOf(...path), { message: `${path.join(".")}: ${message}` }));
  const ids = new Map<string, number>();
  definition.metrics.forEach(({ id }, at) => {
    if (ids.has(id)) fault(["metrics", at, "id"], `"${id}" is there twice`);
    ids.set(id, at);
  });
  checkUnique(
    definition.strata.map((one) => one.id),
    (at, id) => fault(["strata", at, "id"], `"${id}" is there twice`),
  );
  const { index } = definition;
  if (index.method === "metric" && index.metric === undefined)
    fault(["index", "method"], "the method metric needs a metric");
  if (index.metric !== undefined && !ids.has(index.metric))
    fault(["index", "metric"], `the set has no metric "${index.metric}"`);
  if (index.method === "scaled-sum" && (index.scale_to === undefined || index.best_sum === undefined)) {
    fault(["index", "method"], "the method scaled-sum needs scale_to and best_sum");
  }
  const tables = [definition.ratings, ...definition.other_ratings];
  tables.forEach((table, at) => {
    const path = at === 0 ? ["ratings"] : ["other_ratings", at - 1];
    table.classes.forEach((one, number) => {
      const where = [...path, "classes", number];
      if (one.stratum !== undefined && !definition.strata.some((stratum) => stratum.id === one.stratum)) {
        fault([...where, "stratum"], `the set has no stratum "${one.stratum}"`);
      }
      for (const side of ["lower", "upper"] as const) {
        if ((one[side] === undefined) !== (one[`${side}_included`] === undefined)) {
          fault([...where, side], `${side} and ${side}_included go together`);
        }
      }
    });
  });
  checkUnique(
    tables.map((one) => one.id),
    (at, id) =>
      fault(at === 0 ? ["ratings", "id"] : ["other_ratings", at - 1, "id"], `"${id}" is there twice`),
  );
  definition.other_ratings.forEach(({ metric }, at) => {
    if (metric !== undefined && !ids.has(metric))
      fault(["other_ratings", at, "metric"], `the set has no metric "${metric}"`);
  });
}

function checkUnique(ids: readonly string[], report: (at: number, id: string) => void): void {
  ids.forEach((id, at) => {
    if (ids.indexOf(id) < at) report(at, id);
  });
}
