import type { ReplicateValue } from "../pipeline/measure-batch.ts";
import type { ParentMethod } from "../taxa/parents.ts";
import { PARENT_METHODS } from "../taxa/parents.ts";
import { defineCommand, defineOption, defineSwitch, UsageError } from "./define.ts";
import { seedOption, targetOption } from "./options/draw.ts";
import { encodingOption, namesOption, referenceOption, samplesOption } from "./options/input.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { attributesOption } from "./options/method.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

/** As the pipeline names them; it is not loaded for help. */
const REPLICATE_VALUES = ["each", "mean", "pooled"] as const satisfies readonly ReplicateValue[];

const onlyOption = defineOption<readonly string[]>({
  flags: "--only <metrics>",
  summary: "Only these metrics, by id, joined by commas; any of the catalogue, also beyond the set's own.",
  group: "Method",
  defaultText: "the set's metrics",
  parse: (word) => {
    const ids = word.split(",").map((id) => id.trim());
    if (ids.some((id) => id === ""))
      throw new UsageError(`"${word}" is not a list of metric ids joined by commas`);
    return ids;
  },
});

const parentsOption = defineOption<ParentMethod | "all">({
  flags: "--parents <method>",
  summary:
    "What is done with ambiguous parents (records that have finer ones of their line beside them): nothing, they add no taxon (distinct); left out (remove); finer records join them (merge); the side with more animals decides (larger); shared among the finer records (distribute). 'all' shows every method side by side, one row each.",
  group: "Method",
  choices: () => [...PARENT_METHODS, "all"],
  defaultText: "the set's own",
  parse: (word) => PARENT_METHODS.find((method) => method === word) ?? "all",
});

const replicatesOption = defineOption<ReplicateValue>({
  flags: "--replicates <value>",
  summary:
    "Of samples that the log links by replicate_of: the values of each, the mean of their values, or the value of all of them pooled into one sample. A mean and a pooled value are different numbers; the column replicate_value says which it is.",
  group: "Method",
  choices: () => REPLICATE_VALUES,
  defaultText: "each",
  parse: (word) => REPLICATE_VALUES.find((value) => value === word) ?? "each",
});

const listOption = defineSwitch({
  flags: "--list",
  summary: "List the catalogue of metrics; with ids behind it, explain these.",
  group: "Output",
});

export const metrics = defineCommand({
  name: "metrics",
  summary: "metric values of every sample, or the catalogue of metrics",
  description:
    "Works out metric values on the same road as score (names, exclusions, fixed count, level, distinct taxa) and leaves the scoring out. A sheet that subsample wrote holds the animals drawn and no more, so totals and densities of it are those of the draw: give the whole sheets and let the set draw, or read such numbers as what they are. It also shows what ambiguous parents (--parents) and replicates (--replicates) make of the numbers. With --list it shows what can be worked out: definition, formula, unit, range, what it needs, what an empty sample gives, the source, worked examples.",
  operands: [
    { name: "[sheet...]", summary: "Bench sheets as in score; with --list: ids of metrics to explain." },
  ],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    referenceOption,
    attributesOption,
    targetOption,
    seedOption,
    onlyOption,
    parentsOption,
    replicatesOption,
    listOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  required: [{ option: referenceOption, unless: "with --list" }],
  examples: [
    {
      line: "jartally metrics bench-sheet.csv --names names.csv --reference vennaloo-demo --only taxa_richness,shannon_diversity_e",
      explains: "Two metrics of every sample of the demo batch.",
    },
    {
      line: "jartally metrics bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --only taxa_richness --parents all",
      explains: "What each way of dealing with ambiguous parents does to the number of taxa.",
    },
    { line: "jartally metrics --list", explains: "The catalogue, one line a metric." },
    { line: "jartally metrics --list tolerance_index", explains: "Everything about one metric." },
  ],
  run: async (context, input) => {
    const { options } = input;
    const { planOutput } = await import("./output.ts");
    if (options.get(listOption) === true) {
      const { listMetrics } = await import("./metrics-list.ts");
      return listMetrics(context, options, input.operands);
    }
    const reference = options.get(referenceOption);
    if (reference === undefined) {
      throw new UsageError("name a reference set with --reference", "jartally reference list shows them");
    }
    const replicates = options.get(replicatesOption) ?? "each";
    if (replicates !== "each" && options.get(samplesOption) === undefined) {
      throw new UsageError(
        `--replicates ${replicates} needs the sample log (--samples)`,
        "its column replicate_of says which samples are replicates",
      );
    }
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, options, opened.paths);
    const { measureFiles } = await import("./metrics-run.ts");
    return measureFiles(context, options, opened, plan, {
      reference,
      attributes: options.get(attributesOption),
      seed: options.get(seedOption),
      target: options.get(targetOption),
      only: options.get(onlyOption),
      parents: options.get(parentsOption),
      replicates,
    });
  },
});
