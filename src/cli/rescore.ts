import { defineCommand, defineOption, defineSwitch, UsageError } from "./define.ts";
import { targetOption } from "./options/draw.ts";
import { namesOption, referenceOption, stratumOption } from "./options/input.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { attributesOption, classesOption } from "./options/method.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";
import { runOption, stampOption } from "./options/run.ts";

const amendOption = defineOption<string>({
  flags: "--amend <file>",
  summary:
    "Corrections after a re-check: sample_id, taxon, old_count, new_count, reason, by, on. The rows of the run stay as they are.",
  group: "Input",
  parse: (word) => word,
});

const whyOption = defineOption<string>({
  flags: "--why <sample>",
  summary: "Go down to the rows behind the change of one sample: which taxon's value, which threshold.",
  group: "Output",
  parse: (word) => word,
});

const failOnChangeOption = defineSwitch({
  flags: "--fail-on-change",
  summary: "The answer is no (exit code 1) when any index, rating or status is another.",
  group: "Output",
});

/** Options of which at least one must be given: what is changed. */
const CHANGES = [
  referenceOption,
  amendOption,
  namesOption,
  attributesOption,
  classesOption,
  targetOption,
  stratumOption,
];

const DEMO_RUN =
  "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run run-2023";

export const rescore = defineCommand({
  name: "rescore",
  summary: "scores stored runs again, and says what changed and what caused it",
  description:
    "Takes the rows of run folders (made by score --run), without the files they came from, and scores them under another reference set or another version of it, or with corrections, other names, another target. First comes a summary; then a row a sample: index and rating before and after, the change, and how much of it came from each kind of difference: counts (corrections), names (and taxa, level, parents), attributes (values of taxa), metrics (with their thresholds) and rules (count rule, aggregation, classes).\n\nThe parts add up to the change exactly, and none is favoured by the order in which the differences are applied: each is the mean over all orders (Shapley 1953). Where a sample is refused on one side, or the index is of another kind, the row says not-attributable and why. Whatever is not given stays as the run has it; the settings file says nothing here.",
  ignoresSettings: true,
  operands: [{ name: "<run...>", summary: "Run folders, or folders that hold run folders." }],
  options: [
    referenceOption,
    amendOption,
    namesOption,
    attributesOption,
    classesOption,
    targetOption,
    stratumOption,
    whyOption,
    failOnChangeOption,
    runOption,
    stampOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally rescore run-2023 --reference vennaloo-demo --fail-on-change",
      after: [DEMO_RUN],
      explains: "Whether today's version of the set still gives the scores of the run.",
    },
    {
      line: "jartally rescore run-2023 --target 150 --run run-2023-at-150 -o changes.csv",
      after: [DEMO_RUN],
      explains: "What drawing 150 animals instead of 200 would have done, into a table and a new run.",
    },
    {
      line: "jartally rescore run-2023 --target 150 --why U1-2023-06 --format table",
      after: [DEMO_RUN],
      explains: "The rows behind the change of one sample.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    if (CHANGES.every((option) => options.get<unknown>(option) === undefined)) {
      throw new UsageError(
        "say what is to be changed, for instance --reference",
        "a run is checked as it is with jartally verify",
      );
    }
    const why = options.get(whyOption);
    const folder = options.get(runOption);
    if (why !== undefined && folder !== undefined)
      throw new UsageError("--why shows one sample and leaves no run; leave out --run or --why");
    if (options.get(stampOption) === true && folder === undefined)
      throw new UsageError("--stamp needs --run: it says when a run was made");
    const { rescoreFolders } = await import("./rescore-run.ts");
    return rescoreFolders(context, options, input.operands, {
      reference: options.get(referenceOption),
      amend: options.get(amendOption),
      names: options.get(namesOption),
      attributes: options.get(attributesOption),
      classes: options.get(classesOption),
      target: options.get(targetOption),
      stratum: options.get(stratumOption),
      why,
      failOnChange: options.get(failOnChangeOption) === true,
      run: folder,
      isStamped: options.get(stampOption) === true,
    });
  },
});
