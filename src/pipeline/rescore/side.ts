import { FindingCollector } from "../../findings/collector.ts";
import type { NameSpace } from "../../reference/name-space.ts";
import { nameSpaceOf } from "../../reference/name-space.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import type { SharedTables } from "../../reference/shared-tables.ts";
import type { Amendment } from "../../sheets/amendment.ts";
import type { BatchRows, NamedRows } from "../load-rows.ts";
import type { StoredRun } from "../open-run.ts";
import type { ScoringChoices } from "../score-batch.ts";

/** Everything that a score follows from: one side of a comparison. */
export interface Side {
  /** Rows with the corrections made, the log, and the lab's list of names. */
  readonly rows: BatchRows;
  /** Corrections beyond those that the other side has too. */
  readonly amendments: readonly Amendment[];
  readonly shared: SharedTables;
  readonly space: NameSpace;
  /** The rows under the names of this side, where they are resolved already. */
  readonly named?: NamedRows | undefined;
  readonly set: ReferenceSet;
  readonly choices: ScoringChoices;
}

/** The run as it was scored. */
export function sideOf(run: StoredRun): Side {
  const { read, rows, set, shared, choices } = run;
  const table = rows?.table ?? read.rows.table;
  return {
    rows: { ...read.rows, table },
    amendments: [],
    shared,
    space: rows?.space ?? nameSpaceOf(set, shared),
    named: rows,
    set,
    choices,
  };
}

/** Animals drawn from larger samples; undefined when nothing is drawn. */
export function targetOf({ choices, set }: Pick<Side, "choices" | "set">): number | undefined {
  return choices.target === undefined
    ? (set.definition.count_rule.target ?? undefined)
    : (choices.target ?? undefined);
}

/** A sink for what was said already elsewhere. */
export function unheard(): FindingCollector {
  return new FindingCollector();
}
