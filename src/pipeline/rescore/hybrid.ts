import type { ReferenceSet } from "../../reference/set.ts";
import { joinSet } from "../load.ts";
import type { NamedRows } from "../load-rows.ts";
import { nameRows } from "../load-rows.ts";
import type { Batch, ScoringChoices } from "../score-batch.ts";
import type { ChangeKind } from "./kinds.ts";
import { joinedAttributes } from "./kinds.ts";
import type { Side } from "./side.ts";
import { targetOf, unheard } from "./side.ts";

/** A batch ready to be scored. */
export interface Scorable {
  readonly batch: Batch;
  readonly choices: ScoringChoices;
}

/**
 * Makes batches in which some kinds of difference are applied and others are not: the rows of one side under the
 * names of the other, and so on.
 */
export class HybridMaker {
  readonly #before: Side;
  readonly #after: Side;
  /** Names are resolved once for each pair of rows and names. */
  readonly #named = new Map<string, NamedRows>();

  constructor(before: Side, after: Side) {
    this.#before = before;
    this.#after = after;
  }

  /**
   * @param applied the kinds that are as after
   * @returns what stands against it, in words, when the two sides do not go together so
   */
  make(applied: ReadonlySet<ChangeKind>): Scorable | { readonly problem: string } {
    const side = (kind: ChangeKind) => (applied.has(kind) ? this.#after : this.#before);
    const other = (kind: ChangeKind) => (applied.has(kind) ? this.#before : this.#after);
    const attributes = joinedAttributes(
      side("attributes").set.attributes,
      other("attributes").set.attributes,
    );
    const set = { ...hybridSet(side), attributes };
    const findings = unheard();
    const batch = joinSet(this.#names(side("counts"), side("names")), set, findings);
    if (batch === undefined) return { problem: findings.all.map((one) => one.message).join("; ") };
    const rules = side("rules");
    return {
      batch,
      choices: {
        seed: rules.choices.seed,
        algorithm: rules.choices.algorithm,
        target: targetOf(rules) ?? null,
        stratum: side("metrics").choices.stratum,
      },
    };
  }

  #names(counts: Side, names: Side): NamedRows {
    const key = `${counts === this.#after} ${names === this.#after}`;
    const known = this.#named.get(key);
    if (known !== undefined) return known;
    const own = counts === names ? counts.named : undefined;
    const named = own ?? nameRows({ ...counts.rows, lab: names.rows.lab }, names.space, unheard());
    this.#named.set(key, named);
    return named;
  }
}

/** A set of which every part comes from the side of its kind. */
function hybridSet(side: (kind: ChangeKind) => Side): ReferenceSet {
  const metrics = side("metrics").set;
  const names = side("names").set;
  const rules = side("rules").set;
  const weights = new Map(rules.definition.metrics.map(({ id, weight }) => [id, weight]));
  const { scope, naming, level, parents, large_rare, count_policy } = names.definition;
  const { count_rule, index, ratings, other_ratings, without_value_limit_percent } = rules.definition;
  return {
    ...metrics,
    definition: {
      ...metrics.definition,
      ...{ scope, naming, level, parents, large_rare, count_policy },
      ...{ count_rule, index, ratings, other_ratings, without_value_limit_percent },
      // Weights are part of how scores are put together.
      metrics: metrics.definition.metrics.map((use) =>
        weights.has(use.id) ? { ...use, weight: weights.get(use.id) } : use,
      ),
    },
    classes: rules.classes,
    groups: names.groups,
    attributesNotHeld: new Map(),
  };
}
