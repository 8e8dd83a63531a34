import type { Finding } from "../../findings/finding.ts";
import type { Exact } from "../../model/exact.ts";
import { simplify, subtract, ZERO } from "../../model/exact.ts";
import { shapleyParts } from "../../runs/shapley.ts";
import type { SampleScore } from "../result.ts";
import { roadsOf } from "../roads.ts";
import type { ScoredSample } from "../score-batch.ts";
import { HybridMaker } from "./hybrid.ts";
import type { ChangeKind } from "./kinds.ts";
import { CHANGE_KINDS, differingKinds, otherIndexKind } from "./kinds.ts";
import type { Side } from "./side.ts";

/** How much of a change each kind of difference made; the parts add up to the change exactly. */
export type Causes = Readonly<Record<ChangeKind, Exact>>;

/** One sample before and after. */
export interface ComparedSample {
  readonly sampleId: string;
  readonly before: SampleScore;
  readonly after: SampleScore;
  /** Index after less index before; undefined when there is none on one side, or they cannot be compared. */
  readonly change: Exact | undefined;
  readonly causes: Causes | undefined;
  /** Why there are no causes; empty when there are. */
  readonly notAttributable: string;
  /** Findings of scoring it after that there were not before. */
  readonly findings: readonly Finding[];
}

const NO_CAUSES = Object.fromEntries(CHANGE_KINDS.map((kind) => [kind, ZERO])) as Causes;

/** Two sides that are to be compared sample by sample. */
export interface Comparison {
  /** The kinds in which they differ. */
  readonly kinds: readonly ChangeKind[];
  /** Each sample once, in the order of their numbers; can be gone through once. */
  readonly samples: Iterable<ComparedSample>;
}

/**
 * Compares two sides. Only kinds that differ are evaluated: with k of them every sample is scored 2^k times, all
 * of them at the same pace, so that no more than one sample is held.
 *
 * @returns what stands against it, in words, when the second side cannot be scored
 */
export function compareSides(before: Side, after: Side): Comparison | { readonly problem: string } {
  const kinds = differingKinds(before, after);
  const maker = new HybridMaker(before, after);
  const all = 2 ** kinds.length;
  const last = all - 1;
  const runs: (Generator<ScoredSample> | string)[] = [];
  for (let applied = 0; applied < all; applied++) {
    const made = maker.make(new Set(kinds.filter((_, bit) => (applied & (1 << bit)) !== 0)));
    if (!("problem" in made)) runs.push(roadsOf(made.batch, made.choices));
    else if (applied === 0 || applied === last) return { problem: made.problem };
    else runs.push(made.problem);
  }
  const otherKind = otherIndexKind(before.set.definition, after.set.definition);
  return { kinds, samples: samplesOf(runs, kinds, otherKind) };
}

function* samplesOf(
  runs: readonly (Generator<ScoredSample> | string)[],
  kinds: readonly ChangeKind[],
  otherKind: string | undefined,
): Generator<ComparedSample> {
  const unmade = runs.find((run) => typeof run === "string");
  for (;;) {
    const scored: (ScoredSample | undefined)[] = [];
    for (const run of runs) {
      if (typeof run === "string") {
        scored.push(undefined);
        continue;
      }
      const step = run.next();
      if (step.done === true) return;
      scored.push(step.value);
    }
    const first = scored[0];
    const final = scored.at(-1);
    if (first === undefined || final === undefined) return;
    yield compareSample(first, final, scored, kinds, otherKind, unmade);
  }
}

function compareSample(
  first: ScoredSample,
  final: ScoredSample,
  scored: readonly (ScoredSample | undefined)[],
  kinds: readonly ChangeKind[],
  otherKind: string | undefined,
  unmade: string | undefined,
): ComparedSample {
  const { score: before } = first;
  const { score: after } = final;
  const { sampleId } = before;
  const findings = newFindings(first, final);
  const outcome = (change: Exact | undefined, causes: Causes | undefined, notAttributable: string) => {
    return { sampleId, before, after, change, causes, notAttributable, findings };
  };
  const none = (why: string, change?: Exact) => outcome(change, undefined, why);
  if (before.index === undefined || after.index === undefined) {
    const missing = [missingIndex("before", before), missingIndex("after", after)];
    return none(missing.filter((why) => why !== "").join("; "));
  }
  // Where the sides differ in nothing, a sample is scored once.
  if (first === final) return outcome(ZERO, NO_CAUSES, "");
  if (otherKind !== undefined) return none(otherKind);
  const change = simplify(subtract(after.index, before.index));
  if (unmade !== undefined) return none(`the differences do not go one without the other: ${unmade}`, change);
  const values = scored.map((one) => one?.score.index);
  if (values.includes(undefined))
    return none("with only a part of the differences the sample has no index", change);
  const parts = shapleyParts(kinds.length, (applied) => values[applied] as Exact);
  const partOf = (kind: ChangeKind) => parts[kinds.indexOf(kind)] ?? ZERO;
  const [counts, names, attributes, metrics, rules] = CHANGE_KINDS;
  const causes: Causes = {
    counts: partOf(counts),
    names: partOf(names),
    attributes: partOf(attributes),
    metrics: partOf(metrics),
    rules: partOf(rules),
  };
  return outcome(change, causes, "");
}

const NO_FINDINGS: readonly Finding[] = [];

function newFindings({ findings: old }: ScoredSample, { findings }: ScoredSample): readonly Finding[] {
  if (old === findings || findings.length === 0) return NO_FINDINGS;
  const key = ({ code, file, line, column, message }: Finding) =>
    JSON.stringify([code, file, line, column, message]);
  const known = new Set(old.map(key));
  return findings.filter((one) => !known.has(key(one)));
}

/** Why a side has no index, in words; empty when it has one. */
function missingIndex(side: "before" | "after", { status, index, flags }: SampleScore): string {
  if (index !== undefined) return "";
  const why = flags.length === 0 ? "" : ` (${flags.join(", ")})`;
  const what = status === "refused" || status === "held-back" ? status : "without an index";
  return `${what} ${side}${why}`;
}
