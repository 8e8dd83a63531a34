import { defineCommand, defineOption, defineSwitch, UsageError } from "./define.ts";
import { seedOption, targetOption } from "./options/draw.ts";
import { encodingOption, namesOption, referenceOption, samplesOption } from "./options/input.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { attributesOption } from "./options/method.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

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

const listOption = defineSwitch({
  flags: "--list",
  summary: "List the catalogue of metrics; with ids behind it, explain these.",
  group: "Output",
});

export const metrics = defineCommand({
  name: "metrics",
  summary: "metric values of every sample, or the catalogue of metrics",
  description:
    "Works out metric values on the same road as score (names, exclusions, fixed count, level, distinct taxa) and leaves the scoring out. With --list it shows what can be worked out: definition, formula, unit, range, what it needs, what an empty sample gives, the source, worked examples.",
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
    listOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally metrics bench-sheet.csv --names names.csv --reference vennaloo-demo --only taxa_richness,shannon_e",
      explains: "Two metrics of every sample of the demo batch.",
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
    });
  },
});
