import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inputFromBytes } from "../../../src/files/input.ts";
import { Evaluators } from "../../../src/pipeline/intervals/evaluators.ts";
import {
  GeneralEvaluator,
  observedOf,
  RatingNumbers,
} from "../../../src/pipeline/intervals/general-evaluator.ts";
import { loadBatch } from "../../../src/pipeline/load.ts";
import { SamplePreparer } from "../../../src/pipeline/prepare-sample.ts";
import { referencesFor } from "../../../src/pipeline/reference-samples.ts";
import { walkSample } from "../../../src/pipeline/walk-sample.ts";
import { LeanEvaluator } from "../../../src/scoring/intervals/lean-evaluator.ts";

/** Every set that scores taxa, with lists in place of those that are not held. */
const SETS: readonly {
  readonly id: string;
  readonly stratum: string;
  readonly attributes?: readonly string[];
}[] = [
  { id: "vennaloo-demo", stratum: "upland" },
  { id: "vennaloo-demo", stratum: "valley" },
  { id: "vennaloo-demo", stratum: "lowland" },
  { id: "bmwp-aspt-1983", stratum: "all" },
  { id: "hilsenhoff-biotic-index-1987", stratum: "all", attributes: ["rbp1999-northwest"] },
  { id: "hilsenhoff-family-1988", stratum: "all" },
  { id: "pennsylvania-freestone-2012", stratum: "small", attributes: ["rbp1999-northwest"] },
  { id: "percent-model-affinity-1992", stratum: "all" },
  {
    id: "puget-lowland-genus-1999",
    stratum: "all",
    attributes: ["rbp1999-northwest", "feeding-group", "habit", "life-cycle"],
  },
  { id: "reference-ratio-1989", stratum: "all", attributes: ["rbp1999-northwest", "feeding-group"] },
  { id: "virginia-family-2003", stratum: "all", attributes: ["rbp1999-northwest", "feeding-group"] },
  { id: "west-virginia-family-2000", stratum: "all", attributes: ["rbp1999-northwest"] },
];

/** Genera, a family and an order of them, so that some records are ambiguous parents. */
const TAXA = [
  "Baetis",
  "Baetidae",
  "Ephemeroptera",
  "Drunella",
  "Epeorus",
  "Zapada",
  "Sweltsa",
  "Plecoptera",
  "Hydropsyche",
  "Hydropsychidae",
  "Rhyacophila",
  "Brachycentrus",
  "Optioservus",
  "Simulium",
  "Chironomidae",
  "Oligochaeta",
  "Juga",
];

async function batchOf(set: (typeof SETS)[number], samples: readonly (readonly number[])[]) {
  const rows = samples.flatMap((counts, sample) =>
    TAXA.map(
      (taxon, at) => `S${sample},${taxon},${counts[at] ?? 0},${taxon === "Juga" ? "large-rare" : "main"}`,
    ),
  );
  const log = samples.map((_, sample) => `S${sample},${set.stratum},S0`);
  const loaded = await loadBatch(
    {
      sheets: [inputFromBytes("sheet.csv", `sample_id,taxon,count,part\n${rows.join("\n")}\n`)],
      sampleLog: inputFromBytes("log.csv", `sample_id,stratum,reference_sample_id\n${log.join("\n")}\n`),
    },
    set.id,
    ".",
    set.attributes === undefined ? {} : { attributes: set.attributes },
  );
  if (loaded.batch === undefined) throw new Error(loaded.findings.map((one) => one.message).join("; "));
  return loaded.batch;
}

describe("resamples scored in plain numbers", () => {
  it.each(SETS)(
    "get what the exact road gives: $id, $stratum",
    async (set) => {
      const samples = fc.array(
        fc.array(fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 60 })), {
          minLength: TAXA.length,
          maxLength: TAXA.length,
        }),
        { minLength: 3, maxLength: 6 },
      );
      let lean = 0;
      await fc.assert(
        fc.asyncProperty(samples, async (counts) => {
          const batch = await batchOf(set, counts);
          const preparer = new SamplePreparer(batch, { seed: "1", target: null });
          const references = referencesFor(preparer);
          const ratings = new RatingNumbers();
          const evaluators = new Evaluators(preparer, ratings);
          for (let sample = 0; sample < batch.table.samples.size; sample++) {
            const road = walkSample(preparer, sample, references);
            const { prepared, one, scored } = road;
            if (prepared.kind === "stopped" || one === undefined || scored === undefined) continue;
            const main = prepared.drawn.piles.filter((pile) => !pile.largeRare);
            const others = prepared.drawn.piles.filter((pile) => pile.largeRare);
            const evaluator = evaluators.evaluatorFor(one, main, others).evaluator();
            if (evaluator instanceof LeanEvaluator) lean++;
            const general = new GeneralEvaluator(preparer, one, main, others, ratings);
            expect(evaluator.isDominance).toEqual(general.isDominance);
            const none = new Float64Array(evaluator.metrics);
            const whole = Int32Array.from(main, ({ pile }) => pile.count);
            evaluator.evaluate(whole, none);
            const exact = observedOf(scored, ratings);
            expect(evaluator.rating).toBe(exact.rating);
            expectNear(evaluator.index, exact.index);
            // And a thinned sample against the exact road for resamples.
            const half = whole.map((count, at) => Math.floor(count / (1 + (at % 3))));
            evaluator.evaluate(half, none);
            general.evaluate(half, none);
            expect(evaluator.rating).toBe(general.rating);
            expect([...evaluator.pieces]).toEqual([...general.pieces]);
            expectNear(evaluator.index, general.index);
            for (const [metric, value] of evaluator.values.entries())
              expectNear(value, general.values[metric]);
          }
        }),
        { numRuns: 12 },
      );
      // Sets that are scored in percent of a reference sample's index take the exact road.
      expect(lean > 0).toBe(set.id !== "reference-ratio-1989");
    },
    120_000,
  );
});

function expectNear(value: number, exact: number | undefined): void {
  if (exact === undefined || Number.isNaN(exact)) expect(value).toBe(Number.NaN);
  else expect(Math.abs(value - exact)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(exact)));
}
