import { at } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import type { CountPolicy as Policy, TaxonTree } from "../model/taxon-tree.ts";

/** A rule for one life stage of a taxon and all below it. */
export interface StageRule {
  readonly taxon: string;
  readonly stage: LifeStage;
  readonly policy: Policy;
  readonly reason: string;
}

/** What a reference set decides otherwise than the shared tables. */
export interface PolicyOverride {
  readonly taxon: string;
  /** All stages of living animals when left out. */
  readonly life_stage?: LifeStage | undefined;
  readonly policy: Policy;
  readonly reason: string;
}

/** Whether animals count, and why not. */
export interface CountDecision {
  /** `release`: recorded and not counted. */
  readonly policy: Policy;
  /** In words; empty when they count and nothing is to be said. */
  readonly reason: string;
}

/** What is left of animals, never an animal: no rule makes it count. */
const REMAINS: ReadonlyMap<LifeStage, string> = new Map([
  ["exuviae", "cast skin: not an animal"],
  ["shell", "empty shell: not a living animal"],
  ["case", "empty case: not an animal"],
]);

const PUT_BACK: CountDecision = { policy: "release", reason: "put back alive: recorded, not counted" };

/**
 * Says which animals count, by taxon and life stage.
 *
 * From strongest to weakest: cast skins, empty shells and empty cases never count; an animal put back alive is
 * recorded and not counted; the set's own overrides (the nearest one at or above the taxon; at the same taxon
 * one for the stage before one for all stages); the rules for life stages (the nearest one); the policy of the
 * tree. An override for all stages does not make eggs count, only one that names them does. A slash group
 * counts as its members do when they agree, else as the taxon that holds them.
 */
export class CountPolicy {
  readonly #tree: TaxonTree;
  readonly #stageRules: RuleIndex;
  readonly #overrides: RuleIndex;
  readonly #decisions = new Map<LifeStage, (CountDecision | undefined)[]>();

  /**
   * @param tree may hold operational taxa
   * @param stageRules of the shared tables; taxa that are not in the tree are passed over
   * @param overrides of the set; see `checkOverrides` for what is wrong with them
   */
  constructor(tree: TaxonTree, stageRules: readonly StageRule[], overrides: readonly PolicyOverride[] = []) {
    this.#tree = tree;
    this.#stageRules = new RuleIndex(tree, stageRules);
    this.#overrides = new RuleIndex(
      tree,
      overrides.map(({ taxon, life_stage: stage, policy, reason }) => ({ taxon, stage, policy, reason })),
    );
  }

  /**
   * @param taxon number in the tree
   * @param stage `unknown` is judged like a larva: by the taxon alone
   * @param released the row says that the animals went back to the stream alive
   */
  decide(taxon: number, stage: LifeStage, released: boolean): CountDecision {
    if (released && !REMAINS.has(stage)) return PUT_BACK;
    let decisions = this.#decisions.get(stage);
    if (decisions === undefined) {
      decisions = new Array<CountDecision | undefined>(this.#tree.size).fill(undefined);
      this.#decisions.set(stage, decisions);
    }
    const known = decisions[taxon];
    if (known !== undefined) return known;
    const decision = this.#decide(taxon, stage);
    decisions[taxon] = decision;
    return decision;
  }

  /** Whether the tree says that animals of this taxon go back alive, whatever a set makes of kept ones. */
  goesBackAlive(taxon: number): boolean {
    return this.#tree.policies[taxon] === "release";
  }

  #decide(taxon: number, stage: LifeStage): CountDecision {
    const remains = REMAINS.get(stage);
    if (remains !== undefined) return { policy: "exclude", reason: remains };
    return this.#membersAgree(taxon, stage) ?? this.#ofLine(taxon, stage);
  }

  #ofLine(taxon: number, stage: LifeStage): CountDecision {
    const rule = this.#overrides.nearest(taxon, stage) ?? this.#stageRules.nearest(taxon, stage);
    if (rule !== undefined) return { policy: rule.policy, reason: rule.reason };
    return { policy: at(this.#tree.policies, taxon), reason: at(this.#tree.policyReasons, taxon) };
  }

  #membersAgree(taxon: number, stage: LifeStage): CountDecision | undefined {
    const members = this.#tree.operational.get(taxon)?.members ?? [];
    const decisions = members.map((name) => this.#ofLine(this.#tree.numberOf(name) ?? taxon, stage));
    const [first] = decisions;
    if (first === undefined || this.#overrides.has(taxon)) return undefined;
    return decisions.every((decision) => decision.policy === first.policy) ? first : undefined;
  }
}

interface Rule {
  readonly taxon: string;
  readonly stage?: LifeStage | undefined;
  readonly policy: Policy;
  readonly reason: string;
}

/** Rules by taxon; finds the nearest one at or above a taxon. */
class RuleIndex {
  readonly #tree: TaxonTree;
  readonly #byTaxon = new Map<number, Map<LifeStage | "", Rule>>();

  constructor(tree: TaxonTree, rules: readonly Rule[]) {
    this.#tree = tree;
    for (const rule of rules) {
      const taxon = tree.numberOf(rule.taxon);
      if (taxon === undefined) continue;
      const stages = this.#byTaxon.get(taxon) ?? new Map<LifeStage | "", Rule>();
      this.#byTaxon.set(taxon, stages.set(rule.stage ?? "", rule));
    }
  }

  has(taxon: number): boolean {
    return this.#byTaxon.has(taxon);
  }

  nearest(taxon: number, stage: LifeStage): Rule | undefined {
    for (let above = taxon; above >= 0; above = this.#tree.parentOf(above)) {
      const stages = this.#byTaxon.get(above);
      const general = stage === "egg" ? undefined : stages?.get("");
      const rule = stages?.get(stage) ?? general;
      if (rule !== undefined) return rule;
    }
    return undefined;
  }
}

/** What is wrong with a set's overrides, in words; empty when nothing is. */
export function checkOverrides(overrides: readonly PolicyOverride[], tree: TaxonTree): string[] {
  const problems: string[] = [];
  const seen = new Set<string>();
  for (const { taxon, life_stage: stage, policy } of overrides) {
    const what = stage === undefined ? taxon : `${taxon} (${stage})`;
    if (tree.numberOf(taxon) === undefined) problems.push(`"${taxon}" is not in the taxon tree`);
    if (seen.has(what)) problems.push(`"${what}" is decided twice`);
    seen.add(what);
    const remains = stage === undefined ? undefined : REMAINS.get(stage);
    if (remains !== undefined && policy === "count")
      problems.push(`"${what}" cannot be made to count: ${remains}`);
  }
  return problems;
}
