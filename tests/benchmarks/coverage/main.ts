import type { ResamplingWays } from "../../../src/scoring/intervals/resampling-job.ts";
import { USUAL_WAYS } from "../../../src/scoring/intervals/resampling-job.ts";
import { knownJars } from "./jars.ts";
import type { StudyCase } from "./study.ts";
import { study } from "./study.ts";

/** Sets of the study: linear scores, few coarse steps, ten steps. */
const SETS = [
  { reference: "vennaloo-demo", stratum: "valley" },
  { reference: "vennaloo-demo", stratum: "lowland" },
  { reference: "pennsylvania-freestone-2012", stratum: "small" },
  { reference: "puget-lowland-genus-1999", stratum: "all" },
] as const;

const TRIED: readonly ResamplingWays[] = [
  { form: "basic", unseen: "together" },
  { form: "centred", unseen: "together" },
  { form: "normal", unseen: "together" },
  { form: "percentile", unseen: "together" },
  { form: "normal", unseen: "apart" },
  { form: "normal", unseen: "none" },
  { form: "percentile", unseen: "none" },
];

/** Runs the study and prints its table, one row a case, an interval and a number. */
export async function main(words: readonly string[]): Promise<void> {
  const samples = Number(words.find((word) => /^\d+$/.test(word)) ?? 2000);
  const only = words.find((word) => word.startsWith("--only="))?.slice("--only=".length);
  const ways = words.includes("--tried") ? TRIED : words.includes("--two") ? TRIED.slice(1, 3) : [USUAL_WAYS];
  const interval = words.includes("--another-draw") ? "another-draw" : "mean";
  const size = { truth: samples * 10, samples, resamples: 500, interval } as const;
  console.log(
    "jar,grids_recorded,n,set,stratum,form,unseen,measure,truth,sd,coverage,too_high,too_low,width,width_by_sd,middle,middle_sd,claimed_sd,claimed_df",
  );
  for (const one of cases(only)) {
    for (const { ways: way, coverage, support, agreement } of await study(one, size, ways)) {
      const start = [
        `"${one.jar.name}"`,
        one.hasGrids ? "yes" : "no",
        one.n,
        one.reference,
        one.stratum,
        way.form,
        way.unseen,
      ];
      for (const row of coverage)
        console.log(
          [
            ...start,
            row.measure,
            ...[
              row.truth,
              row.spread,
              row.holds,
              row.above,
              row.below,
              row.width,
              row.width / row.spread,
              row.middle,
              row.middleSpread,
              row.claimed,
              row.degrees,
            ].map((value) => value.toPrecision(4)),
          ].join(","),
        );
      console.log(
        [...start, "rating support (mean) and true agreement", support.toFixed(4), agreement.toFixed(4)].join(
          ",",
        ),
      );
    }
  }
}

function cases(only: string | undefined): StudyCase[] {
  return knownJars()
    .flatMap((jar) =>
      (jar.isClumped ? [true, false] : [false]).flatMap((hasGrids) =>
        // Without grids a clumped jar shows what the note about clumping warns of.
        [100, 200, 300].flatMap((n) =>
          setsFor(jar.name).map((set): StudyCase => ({ jar, n, hasGrids, ...set })),
        ),
      ),
    )
    .filter(
      ({ jar, hasGrids, n, reference, stratum }) =>
        only === undefined ||
        new RegExp(only).test(`${jar.name} ${hasGrids ? "grids" : "no-grids"} ${n} ${reference} ${stratum}`),
    );
}

/** The demo's lowland jar is scored by the lowland thresholds only, the others by all but those. */
function setsFor(jar: string): readonly (typeof SETS)[number][] {
  const isLowland = jar.startsWith("demo lowland");
  return SETS.filter(({ stratum }) => (stratum === "lowland") === isLowland);
}
