import type { OperationalTaxon } from "../model/taxon-tree.ts";
import type { NameWarning, ResolvedVia } from "./resolution.ts";

/** A name that was found, before its markers are taken into account. */
export interface NameHit {
  /** Number in the tree; for an operational taxon that of its parent. */
  readonly taxon: number;
  readonly operational?: OperationalTaxon | undefined;
  readonly via: ResolvedVia;
  readonly warning?: NameWarning | undefined;
  /** The synonym table's reason, when a row of it was used. */
  readonly reason?: string | undefined;
}
