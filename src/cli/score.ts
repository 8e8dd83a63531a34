import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { defineCommand, defineOption, defineSwitch, UsageError } from "./define.ts";
import { EXIT, worst } from "./exit-codes.ts";
import { seedOption, targetOption } from "./options/draw.ts";
import {
  encodingOption,
  namesOption,
  referenceOption,
  samplesOption,
  stratumOption,
} from "./options/input.ts";
import { INTERVAL_OPTIONS, resamplesOption, resamplingOf } from "./options/intervals.ts";
import { MESSAGE_OPTIONS, threadsOption } from "./options/messages.ts";
import { attributesOption, classesOption, fromOption } from "./options/method.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";
import { runOption, stampOption } from "./options/run.ts";
import type { RunChoice } from "./score-run.ts";

const layoutOption = defineOption<"wide" | "long">({
  flags: "--layout <layout>",
  summary: "One row a sample (wide), or one row a metric and index (long).",
  group: "Output",
  choices: () => ["wide", "long"],
  defaultText: "wide",
  parse: (word) => (word === "long" ? "long" : "wide"),
});

const allOrNothingOption = defineSwitch({
  flags: "--all-or-nothing",
  summary: "Write nothing unless every sample can be scored.",
  group: "Output",
});

export const score = defineCommand({
  name: "score",
  summary: "metric values, scores, an index and a rating for every sample",
  description:
    "Reads bench sheets, resolves every name, leaves out animals that do not count, draws each larger sample down to the set's fixed count (by individual, also where the sheet names grids; subsample --by grid draws those), works out the set's metrics, scores them against the thresholds of the sample's stratum and gives an index and a rating. Every sample comes out exactly once: scored, flagged (with its doubts), held back (not all jars are in) or refused (with the reason).\n\nThe same files, seed, reference set and version give the same bytes, on any machine.\n\nWith --resamples every score says how firmly it stands. Fixed counts are drawn again from a jar made of the animals counted and the share sorted (Gross 1980; Booth, Butler & Hall 1994), or from whole grids where the sheet names the grid of each animal; --field adds what the lab's own duplicates differ by beyond that. The interval names what is in it and holds nothing else: not the net, the crew, the season or the names. Numbers of taxa are counted with an estimate of the taxa not met, within each metric's own filter (Chao & Lin 2012; Chao et al. 2014): a lower bound, rough where few taxa are rare, kept out of means and percentages; their intervals hold what they are about in 85 to 98 cases of a hundred instead of 90. Where more animals were counted than are scored, a score may lie beside the interval of its mean. The support of a rating is rather too high near a class limit.\n\nWith --from metrics the tables hold metric values instead of counts, for instance those of `jartally metrics`; they are scored against the same thresholds.",
  operands: [
    {
      name: "<sheet...>",
      summary: "Bench sheets: CSV, TSV or .xlsx, long or cross-tab, or folders of them; - is standard input.",
    },
  ],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    referenceOption,
    fromOption,
    stratumOption,
    attributesOption,
    classesOption,
    targetOption,
    seedOption,
    ...INTERVAL_OPTIONS,
    layoutOption,
    allOrNothingOption,
    runOption,
    stampOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  required: [{ option: referenceOption }],
  examples: [
    {
      line: "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo",
      explains: "Scores the demo batch with the invented demo set.",
    },
    {
      line: "jartally score bench-sheet.csv --names names.csv --reference hilsenhoff-family-1988 --layout long -o family.csv",
      explains: "The family-level biotic index of the same sheets, one row a metric, into a file.",
    },
    {
      line: "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run run-2023 -o scores.csv",
      explains: "The same, and a run folder that verify can repeat and rescore can score again.",
    },
    {
      line: "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --resamples 1000 --support-limit 0.8 --format table",
      explains:
        "The same with an interval for every index, the support of every rating and the next most likely one.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const reference = options.get(referenceOption);
    if (reference === undefined) {
      throw new UsageError("name a reference set with --reference", "jartally reference list shows them");
    }
    const from = options.get(fromOption) ?? "counts";
    if (from === "metrics") refuseCountOptions(options);
    if (options.get(stampOption) === true && options.get(runOption) === undefined)
      throw new UsageError("--stamp needs --run: it says when a run was made");
    const resampling = resamplingOf(options);
    const { planOutput } = await import("./output.ts");
    const { scoreFiles } = await import("./score-run.ts");
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, options, opened.paths);
    const run = await planRunFolder(options, context);
    const exit = await scoreFiles(context, options, opened, plan, {
      reference,
      from,
      attributes: options.get(attributesOption),
      classes: options.get(classesOption),
      seed: options.get(seedOption),
      target: options.get(targetOption),
      stratum: options.get(stratumOption),
      layout: options.get(layoutOption) ?? "wide",
      allOrNothing: options.get(allOrNothingOption) === true,
      run,
      resampling,
      threads: options.get(threadsOption),
    });
    return worst(exit, EXIT.done);
  },
});

/** The run folder asked for, checked before any work. */
async function planRunFolder(options: OptionValues, context: CommandContext): Promise<RunChoice | undefined> {
  const folder = options.get(runOption);
  if (folder === undefined) return undefined;
  const { environmentOf, planRun } = await import("./run-place.ts");
  const place = await planRun(folder, context.cwd);
  return { place, environment: environmentOf(options.get(stampOption) === true) };
}

/** Options about counts say nothing to metric values; silence would let one believe that they were heeded. */
function refuseCountOptions(options: OptionValues): void {
  for (const option of [
    namesOption,
    attributesOption,
    targetOption,
    seedOption,
    resamplesOption,
    runOption,
  ]) {
    if (!options.isGiven(option)) continue;
    const name = option.flags.split(" ")[0];
    throw new UsageError(`${name} is about counts and does nothing with --from metrics`);
  }
}
