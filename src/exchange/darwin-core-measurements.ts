import type { OutputRow } from "../files/formats/define.ts";
import type { ExchangeRun, ExchangeSample } from "./exchange-sample.ts";
import { oneLine } from "./one-line.ts";
import { measurementIdOf, sampleIdOf } from "./stable-ids.ts";

interface Measured {
  /** Parts of its id behind the sample's. */
  readonly id: readonly string[];
  readonly parent?: readonly string[];
  readonly type: string;
  readonly value: string | number | undefined;
  readonly unit: string;
  readonly remarks?: string;
}

/**
 * The figures of a sample as rows of the measurement table: animals and share sorted, every metric with its score
 * below it, the index and the rating below that. A figure that could not be worked out has a row that says why.
 * A sample that was not scored has none.
 */
export function measurementRows(sample: ExchangeSample, run: ExchangeRun): OutputRow[] {
  if (sample.status !== "scored" && sample.status !== "flagged") return [];
  const { set } = run;
  const method = `${set.title} (${set.id} ${set.version}, SHA-256 ${set.hash}; ${set.verification})`;
  const doubts = sample.flags.length === 0 ? "" : `flags: ${sample.flags.join(", ")}`;
  const draw =
    sample.drawTarget === undefined ? "" : `random fixed count of ${sample.drawTarget}, seed ${run.seed}`;
  const index = ["index", set.id];
  const ofLab: Measured[] = [
    { id: ["counted"], type: "animals counted", value: sample.counted, unit: "individuals" },
    { id: ["sorted"], type: "share of the sample sorted", value: sample.fractionSorted, unit: "1" },
  ];
  const ofSet: Measured[] = [
    {
      id: ["scored", set.id],
      type: "animals scored",
      value: sample.scored,
      unit: "individuals",
      remarks: draw,
    },
    ...sample.metrics.flatMap((metric): Measured[] => [
      {
        id: ["metric", set.id, metric.id],
        type: metric.name,
        value: metric.value,
        unit: metric.unit,
        remarks: metric.whyMissing,
      },
      ...(metric.score === undefined
        ? []
        : [
            {
              id: ["score", set.id, metric.id],
              parent: ["metric", set.id, metric.id],
              type: `score of ${metric.name}`,
              value: metric.score,
              unit: "",
            },
          ]),
    ]),
    { id: index, type: "biotic index", value: sample.index, unit: "", remarks: doubts },
    ...(sample.rating === ""
      ? []
      : [{ id: ["rating", set.id], parent: index, type: "rating", value: sample.rating, unit: "" }]),
  ];
  const row =
    (how: string, on: string) =>
    ({ id, parent, type, value, unit, remarks = "" }: Measured): OutputRow => [
      sampleIdOf(sample),
      measurementIdOf(sample, ...id),
      parent === undefined ? "" : measurementIdOf(sample, ...parent),
      type,
      value ?? null,
      unit,
      how,
      on,
      oneLine(remarks),
    ];
  return [
    ...ofLab.filter(({ value }) => value !== undefined).map(row("", "")),
    ...ofSet.map(row(oneLine(method), run.calculatedOn)),
  ];
}
