import type { AttributeLookup } from "../model/attribute-lookup.ts";
import type { Attribute } from "../model/attributes.ts";
import type { Community, SampleContext } from "../model/community.ts";
import type { MetricValue } from "../model/metric-value.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";

/** What a metric is worked out from; known once for a batch. */
export interface MetricSetup {
  readonly tree: TaxonTree;
  readonly attributes: AttributeLookup;
}

/** One taxon's part in a metric, for a reviewer who wants to redo the number by hand. */
export interface Contribution {
  /** Number of the taxon in the tree. */
  readonly taxon: number;
  readonly count: number;
  /** Whether it takes part; `why` says why not. */
  readonly counted: boolean;
  /** Its attribute value as written, where the metric uses one. */
  readonly value?: string | undefined;
  /** The taxon whose row gave that value. */
  readonly valueFrom?: number | undefined;
  readonly why?: string | undefined;
}

/** A metric made ready for a tree, its attributes and its settings; worked out once for every sample. */
export interface PreparedMetric {
  evaluate(community: Community, context: SampleContext): MetricValue;
  contributions(community: Community, context: SampleContext): Contribution[];
  /** The attributes it reads; animals without a value in one of them are reported. */
  readonly attributes: readonly Attribute[];
}
