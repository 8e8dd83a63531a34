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
  /** A number for each order that is met, from 0 on: what is kept by it lies together. */
  readonly slot: number;
  /** Whether such animals count, unless they were put back alive. */
  readonly decision: CountDecision;
}

/** Works out the kinds of a batch's rows, each once: a batch has many rows and few kinds. */
export class RowKinds {
  readonly policy: CountPolicy;
  readonly #names: BatchNames;
  /** By name and stage of the row's column. */
  readonly #known: (RowKind | undefined)[];
  readonly #slots = new Map<number, number>();

  constructor(names: BatchNames, policy: CountPolicy) {
    this.policy = policy;
    this.#names = names;
    this.#known = new Array<RowKind | undefined>(names.taxa.length * LIFE_STAGES.length).fill(undefined);
  }

  /**
   * @param place the place of name and stage, as the table of rows gives it
   * @returns undefined for a name that is no taxon
   */
  of(place: number): RowKind | undefined {
    const known = this.#known[place];
    if (known !== undefined) return known;
    const name = Math.floor(place / LIFE_STAGES.length);
    const taxon = at(this.#names.taxa, name);
    if (taxon < 0) return undefined;
    const kind = this.#kind(taxon, name, at(LIFE_STAGES, place % LIFE_STAGES.length));
    this.#known[place] = kind;
    return kind;
  }

  #kind(taxon: number, name: number, written: LifeStage): RowKind {
    const key = at(this.#names.keys, name);
    const stage = written === "unknown" ? (this.#names.stages[name] ?? "unknown") : written;
    const order = key * LIFE_STAGES.length + LIFE_STAGES.indexOf(stage);
    const slot = this.#slots.get(order) ?? this.#slots.size;
    this.#slots.set(order, slot);
    return { taxon, key, stage, order, slot, decision: this.policy.decide(taxon, stage, false) };
  }
}
