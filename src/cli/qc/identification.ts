import type { Rank } from "../../model/taxon-tree.ts";
import { RANKS } from "../../model/taxon-tree.ts";
import { USUAL_LIMITS } from "../../quality/limits.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { encodingOption, namesOption, referenceOption, samplesOption } from "../options/input.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { limitOption, logOption, logPath, reportOption, settleLimit, tableOption } from "./options.ts";

const pdeLimitOption = limitOption(
  "--pde-limit <percent>",
  "Most difference in enumeration (PDE); 'none' for no limit.",
  "at-most",
  "5",
);
const ptdLimitOption = limitOption(
  "--ptd-limit <percent>",
  "Most taxonomic disagreement (PTD); 'none' for no limit.",
  "at-most",
  "15",
);
const ptcLimitOption = limitOption(
  "--ptc-limit <percent>",
  "Most difference of the two completeness figures (PTC).",
  "at-most",
  "none",
);
const gainsLimitOption = limitOption(
  "--gains-limit <families>",
  "Most families per sample, in the mean, that only the second taxonomist found.",
  "at-most",
  "none",
);

const pdeOption = defineOption<"sum" | "mean">({
  flags: "--pde <definition>",
  summary:
    "What the difference of the two totals is divided by: their sum or their mean; by the mean it is twice as large.",
  group: "Method",
  choices: () => ["sum", "mean"],
  defaultText: "sum",
  parse: (word) => (word === "mean" ? "mean" : "sum"),
});

const hierarchicalOption = defineOption<"count" | "ignore">({
  flags: "--hierarchical <how>",
  summary:
    "Whether a coarser name of the same line counts as a disagreement for the limit; both figures are always shown.",
  group: "Method",
  choices: () => ["count", "ignore"],
  defaultText: "count",
  parse: (word) => (word === "ignore" ? "ignore" : "count"),
});

const levelOption = defineOption<Rank>({
  flags: "--level <rank>",
  summary: "Rank to which animals should have been named, for completeness (PTC), such as genus.",
  group: "Method",
  defaultText: "the level of --reference, else genus",
  parse: (word) => {
    const rank = RANKS.find((one) => one === word.toLowerCase());
    if (rank === undefined) throw new UsageError(`"${word}" is not a rank: one of ${RANKS.join(", ")}`);
    return rank;
  },
});

const identificationTableOption = tableOption(["samples", "disagreements", "taxonomists", "taxa"], "samples");

export const identification = defineCommand({
  name: "identification",
  summary: "two bench sheets of the same animals: how far the names agree",
  description:
    "Compares the first taxonomist's sheet with a second person's, sample by sample: difference in enumeration (PDE), taxonomic disagreement (PTD) with and without names that are only coarser, agreement (PTA), completeness at a target level (PTC) on both sheets, Bray-Curtis and percent similarity, families gained and lost. Every disagreement is listed, the heaviest first; the tables of taxonomists and of disputed names cover the batch.\n\nNames are resolved as in score, and animals that do not count are left out of both sheets; finds of the large/rare search are compared too. Samples that only the first sheet has were not re-checked and are passed over.",
  operands: [
    { name: "<primary>", summary: "Bench sheet of the first identification, or a folder of them." },
    { name: "<recheck>", summary: "Bench sheet of the second one." },
  ],
  options: [
    samplesOption,
    logOption,
    namesOption,
    encodingOption,
    referenceOption,
    levelOption,
    pdeOption,
    hierarchicalOption,
    pdeLimitOption,
    ptdLimitOption,
    ptcLimitOption,
    gainsLimitOption,
    identificationTableOption,
    reportOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally qc identification bench-sheet.csv qc-recheck-sheet.csv --names names.csv --samples sample-log.csv",
      explains: "The demo's re-identified samples, with its usual level.",
    },
    {
      line: "jartally qc identification bench-sheet.csv qc-recheck-sheet.csv --names names.csv --table disagreements --format csv",
      explains: "Every disagreement as rows.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const [primary = "", recheck = ""] = input.operands;
    const log = logPath(options);
    const names = options.get(namesOption);
    const paths = [primary, recheck, ...[log, names].filter((path) => path !== undefined)];
    if (paths.filter((path) => path === "-").length > 1)
      throw new UsageError("standard input (-) can be given once only");
    const [{ openInput, openInputs }, { planOutput }, { checkIdentification }, run] = await Promise.all([
      import("../../files/input.ts"),
      import("../output.ts"),
      import("../../pipeline/quality/identification-run.ts"),
      import("./run-quality.ts"),
    ]);
    const world = { stdin: context.stdin, cwd: context.cwd };
    const files = {
      primary: await openInputs([primary], world),
      recheck: await openInputs([recheck], world),
      sampleLog: log === undefined ? undefined : await openInput(log, world),
      names: names === undefined ? undefined : await openInput(names, world),
      encoding: options.get(encodingOption),
    };
    const plan = await planOutput(context, options, paths);
    await run.checkReportFolder(context, options);
    const result = await checkIdentification(
      files,
      {
        rules: {
          enumeration: options.get(pdeOption) ?? "sum",
          enumerationLimit: settleLimit(options.get(pdeLimitOption), USUAL_LIMITS.enumeration),
          disagreementLimit: settleLimit(options.get(ptdLimitOption), USUAL_LIMITS.disagreement),
          completenessLimit: settleLimit(options.get(ptcLimitOption), undefined),
          hierarchical: options.get(hierarchicalOption) ?? "count",
        },
        rank: options.get(levelOption),
        reference: options.get(referenceOption),
        gainsLimit: settleLimit(options.get(gainsLimitOption), undefined),
      },
      context.cwd,
    );
    return run.finishQuality(context, options, plan, result, {
      command: "identification",
      title: "Re-identification",
      table: options.get(identificationTableOption),
    });
  },
});
