import { at } from "../../model/at.ts";
import { USUAL_LIMITS } from "../../quality/limits.ts";
import { defineCommand, defineOption, defineSwitch, UsageError } from "../define.ts";
import { encodingOption, samplesOption } from "../options/input.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { limitOption, logOption, logPath, reportOption, settleLimit, tableOption } from "./options.ts";

type Links = "duplicate_of" | "replicate_of" | "both";

const byOption = defineOption<Links>({
  flags: "--by <column>",
  summary: "Column of the log that names the sample which another one repeats.",
  group: "Method",
  choices: () => ["duplicate_of", "replicate_of", "both"],
  defaultText: "duplicate_of",
  parse: (word) => (word === "replicate_of" || word === "both" ? word : "duplicate_of"),
});

const rpdLimitOption = limitOption(
  "--rpd-limit <percent>",
  "Most relative percent difference (RPD) of the index within a group; 'none' for no limit.",
  "at-most",
  "15",
);

const everyMetricOption = defineSwitch({
  flags: "--every-metric",
  summary: "Hold every metric against the limit too, not only the index.",
  group: "Method",
});

const duplicatesTableOption = tableOption(["precision", "pairs", "intervals", "ratings"], "precision");

export const duplicates = defineCommand({
  name: "duplicates",
  summary: "how far two samples of one place lie apart, and what a score can tell",
  description:
    "Takes a table of scores and the duplicates and replicates that the sample log names, pairs or larger groups, and works out for the index and for every metric: relative percent difference (RPD), within-site standard deviation (root mean square error of an analysis of variance with sites as treatments), CV, the 90 percent interval around one, two or three samples (Student's t; the published normal factor beside it), the difference that can be told from a fixed limit and between two samples, and how often the rating differs within a pair.\n\nTwo zeros have no relative difference: that is not computable, not 0.",
  operands: [{ name: "<scores>", summary: "A table that score wrote, wide or long." }],
  options: [
    samplesOption,
    logOption,
    encodingOption,
    byOption,
    rpdLimitOption,
    everyMetricOption,
    duplicatesTableOption,
    reportOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  required: [{ option: logOption, unless: "when --samples names the log" }],
  examples: [
    {
      line: "jartally qc duplicates qc-scores.csv --log qc-duplicates-log.csv",
      explains: "An invented study of precision: ten riffles, netted twice or three times.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const scores = at(input.operands, 0);
    const log = logPath(options);
    if (log === undefined)
      throw new UsageError("name the sample log with --log", "its column duplicate_of links the samples");
    if (scores === "-" && log === "-") throw new UsageError("standard input (-) can be given once only");
    const [{ openInput }, { planOutput }, { checkDuplicates }, run] = await Promise.all([
      import("../../files/input.ts"),
      import("../output.ts"),
      import("../../pipeline/quality/duplicates-run.ts"),
      import("./run-quality.ts"),
    ]);
    const world = { stdin: context.stdin, cwd: context.cwd };
    const files = {
      scores: await openInput(scores, world),
      sampleLog: await openInput(log, world),
      encoding: options.get(encodingOption),
    };
    const plan = await planOutput(context, options, [scores, log]);
    await run.checkReportFolder(context, options);
    const result = await checkDuplicates(files, {
      links: options.get(byOption) ?? "duplicate_of",
      limit: settleLimit(options.get(rpdLimitOption), USUAL_LIMITS.relativeDifference),
      limitsMetrics: options.get(everyMetricOption) === true,
    });
    return run.finishQuality(context, options, plan, result, {
      command: "duplicates",
      title: "Duplicates and precision",
      table: options.get(duplicatesTableOption),
    });
  },
});
