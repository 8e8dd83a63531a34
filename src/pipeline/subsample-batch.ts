import { FindingCollector } from "../findings/collector.ts";
import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { fact, fractionSorted } from "../model/sample-facts.ts";
import type { CountPolicy } from "../names/count-policy.ts";
import type { CountStatus } from "../subsample/fixed-count.ts";
import { applyCountRule } from "../subsample/fixed-count.ts";
import { flagsOf } from "./flags.ts";
import type { NamedRows } from "./load.ts";
import { isHeldBack } from "./log-checks.ts";
import type { Pile } from "./sample-piles.ts";
import { gatherPiles, placeOfSample } from "./sample-piles.ts";

/** How every sample of a batch is drawn. */
export interface DrawChoices {
  readonly target: number;
  readonly seed: string;
}

/** What is left of one pile. */
export interface RemainingPile {
  readonly pile: Pile;
  readonly left: number;
}

/** One sample after the draw. */
export interface DrawnSample {
  readonly sampleId: string;
  readonly siteId: string;
  readonly status: CountStatus | "held-back" | "refused";
  /** Animals that count, before the draw; undefined when the sample was refused. */
  readonly counted: number | undefined;
  readonly kept: number | undefined;
  readonly fractionSorted: number | undefined;
  /** Animals counted before the draw divided by the share sorted. */
  readonly estimatedTotal: number | undefined;
  readonly algorithm: string;
  readonly flags: readonly FindingCode[];
  /** Piles with animals left, in canonical order; large/rare piles are kept as they are. */
  readonly remaining: readonly RemainingPile[];
  readonly findings: readonly Finding[];
}

/**
 * Draws every sample of a batch to a fixed count, animal by animal and without replacement. Animals that do not
 * count leave before the draw; animals of the large/rare search are never drawn. The draw of a sample depends on
 * the seed, its id and its piles only, so it is the one that `score` makes.
 */
export function* drawBatch(
  rows: NamedRows,
  policy: CountPolicy,
  choices: DrawChoices,
): Generator<DrawnSample> {
  const { order, starts } = rows.table.bySample();
  for (let number = 0; number < rows.table.samples.size; number++) {
    const own = order.subarray(starts[number] ?? 0, starts[number + 1] ?? 0);
    yield drawSample(rows, policy, choices, rows.table.samples.textOf(number), own);
  }
}

function drawSample(
  rows: NamedRows,
  policy: CountPolicy,
  choices: DrawChoices,
  sampleId: string,
  own: Uint32Array,
): DrawnSample {
  const findings = new FindingCollector();
  const facts = rows.log?.samples.get(sampleId);
  const place = placeOfSample(rows.table, own);
  const share = fractionSorted(facts);
  const piles = gatherPiles(sampleId, own, { table: rows.table, names: rows.names, policy, findings });
  const faults = [...(rows.refused.get(sampleId) ?? []), ...piles.refusals];
  const known = {
    sampleId,
    siteId: fact(facts, "site_id") ?? "",
    fractionSorted: share,
    findings: findings.all,
  };
  const none = { kept: undefined, estimatedTotal: undefined, algorithm: "", remaining: [] };
  if (faults.length > 0) {
    return { ...known, ...none, status: "refused", counted: undefined, flags: flagsOf(findings.all, faults) };
  }
  if (isHeldBack(sampleId, facts, findings)) {
    return {
      ...known,
      ...none,
      status: "held-back",
      counted: piles.counted,
      flags: flagsOf(findings.all, []),
    };
  }
  if (piles.hasExpanded && piles.counted > choices.target) {
    findings.add(
      finding("expanded-counts", place, {
        message: `sample ${sampleId} holds expanded counts, so ${choices.target} animals cannot be drawn from its ${piles.counted}`,
        severity: "error",
        sampleId,
      }),
    );
    return { ...known, ...none, status: "refused", counted: piles.counted, flags: flagsOf(findings.all, []) };
  }
  const main = piles.piles.filter((pile) => !pile.largeRare);
  const outcome = applyCountRule({
    counts: main.map((pile) => pile.count),
    target: choices.target,
    fractionSorted: share,
    seed: choices.seed,
    sampleId,
  });
  if (outcome.status === "under-target") {
    findings.add(
      finding("under-target", place, {
        message: `sample ${sampleId} has ${piles.counted} of ${choices.target} animals and ${share === undefined ? "it is not known how much of it was sorted" : `${Math.round(share * 1000) / 10} percent of it was sorted`}`,
        sampleId,
      }),
    );
  }
  const left = new Map(main.map((pile, at) => [pile, outcome.left[at] ?? 0]));
  return {
    ...known,
    status: outcome.status,
    counted: outcome.total,
    kept: outcome.kept,
    estimatedTotal: outcome.estimatedTotal,
    algorithm: outcome.algorithm,
    flags: flagsOf(findings.all, []),
    remaining: piles.piles
      .map((pile) => ({ pile, left: left.get(pile) ?? pile.count }))
      .filter(({ pile, left: animals }) => animals > 0 || pile.largeRare),
  };
}
