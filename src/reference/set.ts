import type { Attribute, AttributeTable } from "../model/attributes.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { RatingClass, Segment } from "../model/segment.ts";
import type { Source } from "./shared-sources.ts";

/** A reference set read, checked for form and joined with the shared tables it uses. */
export interface ReferenceSet {
  readonly definition: SetDefinition;
  /** The folder it was read from, as the user or the package names it. */
  readonly folder: string;
  /** Segments by metric column and stratum, from low to high. A metric without any counts as it is. */
  readonly segments: ReadonlyMap<string, ReadonlyMap<string, readonly Segment[]>>;
  /** From best to worst. */
  readonly classes: readonly RatingClass[];
  /** Attribute tables by kind, with the set's own values put over the shared ones. */
  readonly attributes: ReadonlyMap<Attribute, AttributeTable>;
  /** Attributes that the method uses and this package does not hold, with the name of the method's list. */
  readonly attributesNotHeld: ReadonlyMap<Attribute, string>;
  /** Attribute tables that the user put in place of the method's own; none as the set is read. */
  readonly standIns: readonly AttributeStandIn[];
  /** Names of a set whose names are groups; empty for others. */
  readonly groups: SetGroups;
  /** Sources cited in the set's own sources.csv. */
  readonly ownSources: ReadonlyMap<string, Source>;
  /** SHA-256 over everything the set uses, shared tables included. */
  readonly hash: string;
}

/** An attribute table that the user put in place of the method's own. */
export interface AttributeStandIn {
  readonly attribute: Attribute;
  /** Scheme or file. */
  readonly from: string;
  /** The list that the method uses. */
  readonly insteadOf: string;
}

/** The groups of a coarse tally. */
export interface SetGroups {
  readonly names: readonly string[];
  /** Other name to group. */
  readonly alsoCalled: ReadonlyMap<string, string>;
}

/** A source that a set names, from its own table or the shared one. */
export function sourceOf(
  set: Pick<ReferenceSet, "ownSources">,
  shared: ReadonlyMap<string, Source>,
  id: string,
): Source | undefined {
  return set.ownSources.get(id) ?? shared.get(id);
}

/** The segments of one metric in one stratum; none when the metric counts as it is. */
export function segmentsOf(
  set: ReferenceSet,
  metric: string,
  stratum: string,
): readonly Segment[] | undefined {
  return set.segments.get(metric)?.get(stratum);
}
