import type { Attribute, AttributeTable } from "../../model/attributes.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import type { Side } from "./side.ts";

/** The first side with one taxon's value as the second one has it, and nothing else changed. */
export function withValueOf(before: Side, after: Side, attribute: Attribute, taxon: string): Side {
  const table = before.set.attributes.get(attribute);
  if (table === undefined) return before;
  const value = after.set.attributes.get(attribute)?.values.get(taxon);
  const values = new Map(table.values);
  if (value === undefined) values.delete(taxon);
  else values.set(taxon, value);
  const changed: AttributeTable = { ...table, values };
  const attributes = new Map(before.set.attributes).set(attribute, changed);
  return withSet(before, { ...before.set, attributes });
}

/** The first side with one metric's settings and thresholds as the second one has them. */
export function withMetricOf(before: Side, after: Side, id: string): Side {
  const use = after.set.definition.metrics.find((one) => one.id === id);
  const segments = new Map(before.set.segments);
  const own = after.set.segments.get(id);
  if (own === undefined) segments.delete(id);
  else segments.set(id, own);
  const { definition } = before.set;
  const metrics = definition.metrics.map((one) =>
    one.id === id && use !== undefined ? { ...use, weight: one.weight } : one,
  );
  return withSet(before, { ...before.set, segments, definition: { ...definition, metrics } });
}

function withSet(side: Side, set: ReferenceSet): Side {
  return { ...side, set };
}
