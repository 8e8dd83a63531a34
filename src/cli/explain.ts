import { resolve } from "node:path";
import type { CommandContext } from "./context.ts";
import type { CommandInput } from "./define.ts";
import { defineCommand, defineOption, UsageError } from "./define.ts";
import type { ExitCode } from "./exit-codes.ts";
import { seedOption, targetOption } from "./options/draw.ts";
import {
  encodingOption,
  namesOption,
  referenceOption,
  samplesOption,
  stratumOption,
} from "./options/input.ts";
import { INTERVAL_OPTIONS, resamplingOf } from "./options/intervals.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { attributesOption, classesOption } from "./options/method.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

const sampleOption = defineOption<string>({
  flags: "--sample <sample>",
  summary: "The sample to explain, by the id that the sheets give it.",
  group: "Input",
  parse: (word) => word,
});

const metricOption = defineOption<string>({
  flags: "--metric <metric>",
  summary: "Explain one metric only, taxon by taxon: one of the set's, or any other of the catalogue.",
  group: "Method",
  defaultText: "the whole road",
  parse: (word) => word,
});

/** Options that a run folder answers itself. */
const AS_SCORED = [
  samplesOption,
  namesOption,
  encodingOption,
  referenceOption,
  stratumOption,
  attributesOption,
  classesOption,
  targetOption,
  seedOption,
  ...INTERVAL_OPTIONS,
];

export const explain = defineCommand({
  name: "explain",
  summary: "how every number of one sample came about",
  description:
    "Walks one sample down the road that score takes it, with the same options, and shows each step: the rows and what their names were taken as, the animals that do not count and why, the draw, the taxa and why each is distinct or not, the metrics with the very rows of the thresholds that scored them, the index, the rating and how far it lies from the next class.\n\nWith --metric it shows one number so that it can be redone by hand: every taxon with its count, share and value, which take part, what was left out and why, and the arithmetic.\n\nAs a table it is a page for a person; csv and json have one row a step, with the columns sample_id, step, item, taxon, source, count, left, value, share, score, how.",
  operands: [
    { name: "<sheet...>", summary: "Bench sheets as in score; or one run folder, as it was scored." },
  ],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    sampleOption,
    referenceOption,
    stratumOption,
    attributesOption,
    classesOption,
    targetOption,
    seedOption,
    ...INTERVAL_OPTIONS,
    metricOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  required: [{ option: referenceOption, unless: "with a run folder" }, { option: sampleOption }],
  examples: [
    {
      line: "jartally explain bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --sample V4-2023-05 --format table",
      explains: "The whole road of one sample of the demo batch.",
    },
    {
      line: "jartally explain bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --sample V4-2023-05 --metric tolerance_index --format table",
      explains: "One of its numbers, taxon by taxon.",
    },
    {
      line: "jartally explain run-2023 --sample V4-2023-05 --format table",
      after: [
        "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run run-2023",
      ],
      explains: "The same from a run folder, without the files it was made from.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const reference = options.get(referenceOption);
    const [first, second] = input.operands;
    if (first !== undefined && second === undefined) {
      const { isRun } = await import("../pipeline/rescore/find-runs.ts");
      if (await isRun(resolve(context.cwd, first))) return explainRunFolder(context, input, first);
    }
    if (reference === undefined) {
      throw new UsageError("name a reference set with --reference", "jartally reference list shows them");
    }
    const sample = options.get(sampleOption);
    if (sample === undefined) {
      throw new UsageError("name the sample with --sample", "jartally check lists the samples of a sheet");
    }
    const resampling = resamplingOf(options);
    const { planOutput } = await import("./output.ts");
    const { explainFiles } = await import("./explain-run.ts");
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, options, opened.paths);
    return explainFiles(context, options, opened, plan, {
      reference,
      sample,
      metric: options.get(metricOption),
      attributes: options.get(attributesOption),
      classes: options.get(classesOption),
      seed: options.get(seedOption),
      target: options.get(targetOption),
      stratum: options.get(stratumOption),
      resampling,
    });
  },
});

/** A run is explained as it was scored: whatever would score it otherwise is a word too much. */
async function explainRunFolder(
  context: CommandContext,
  { options }: CommandInput,
  folder: string,
): Promise<ExitCode> {
  for (const option of AS_SCORED) {
    if (!options.isGiven(option)) continue;
    throw new UsageError(
      `${option.flags.split(" ")[0]} would score the run otherwise`,
      "a run is explained as it was scored; jartally rescore scores it again",
    );
  }
  const sample = options.get(sampleOption);
  if (sample === undefined)
    throw new UsageError("name the sample with --sample", "scores.csv of the run lists its samples");
  const { planOutput } = await import("./output.ts");
  const { explainStored } = await import("./explain-stored.ts");
  const plan = await planOutput(context, options, []);
  return explainStored(context, options, plan, folder, { sample, metric: options.get(metricOption) });
}
