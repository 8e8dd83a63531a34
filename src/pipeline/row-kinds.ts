import { at } from "../model/at.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { CountDecision, CountPolicy } from "../names/count-policy.ts";
import type { BatchNames } from "./batch-names.ts";

/** What all rows of one name and stage have in common. */
export interface RowKind {
  readonly taxon: number;
  /** Number of the normalised name. */
  readonly key: number;
  /** The stage of the row's column, else the one written into the name. */
  readonly stage: LifeStage;
  /** Place among name and stage in the draw's canonical order. */
  readonly order: number;
  /** Whether such animals count, unless they were put back alive. */
  readonly decision: CountDecision;
}

/** Works out the kinds of a batch's rows, each once: a batch has many rows and few kinds. */
export class RowKinds {
  readonly policy: CountPolicy;
  readonly #names: BatchNames;
  /** By name and stage of the row's column. */
  readonly #known: (RowKind | undefined)[];

  constructor(names: BatchNames, policy: CountPolicy) {
    this.policy = policy;
    this.#names = names;
    this.#known = new Array<RowKind | undefined>(names.taxa.length * LIFE_STAGES.length).fill(undefined);
  }

  /**
   * @param name number of a name that is a taxon
   * @param written position of the stage of the row's column in LIFE_STAGES
   */
  of(name: number, written: number): RowKind {
    const place = name * LIFE_STAGES.length + written;
    const known = this.#known[place];
    if (known !== undefined) return known;
    const kind = this.#kind(name, at(LIFE_STAGES, written));
    this.#known[place] = kind;
    return kind;
  }

  #kind(name: number, written: LifeStage): RowKind {
    const taxon = at(this.#names.taxa, name);
    const key = at(this.#names.keys, name);
    const stage = written === "unknown" ? (this.#names.stages[name] ?? "unknown") : written;
    const order = key * LIFE_STAGES.length + LIFE_STAGES.indexOf(stage);
    return { taxon, key, stage, order, decision: this.policy.decide(taxon, stage, false) };
  }
}
