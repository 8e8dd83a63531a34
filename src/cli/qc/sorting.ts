import { at } from "../../model/at.ts";
import type { Exact } from "../../model/exact.ts";
import { compareExact, fraction, parseDecimal } from "../../model/exact.ts";
import type { SortingRule } from "../../quality/sorting.ts";
import { EFFICIENCY_RULE, MISSED_RULE } from "../../quality/sorting.ts";
import type { OptionValues } from "../define.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { encodingOption, samplesOption } from "../options/input.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { logOption, logPath, reportOption, shareOption, tableOption, USUAL_SHARE } from "./options.ts";

const ruleOption = defineOption<"efficiency" | "missed">({
  flags: "--rule <rule>",
  summary:
    "What passes: an efficiency (percent), or fewer than a number of animals missed (10 percent of the sorted ones in larger subsamples).",
  group: "Method",
  choices: () => ["efficiency", "missed"],
  defaultText: "efficiency",
  parse: (word) => (word === "missed" ? "missed" : "efficiency"),
});

const limitOption = defineOption<Exact>({
  flags: "--limit <n>",
  summary:
    "Least efficiency in percent (the limit itself passes), or the number of missed animals under which a sample passes.",
  group: "Method",
  defaultText: "90 percent, or 10 animals",
  parse: (word) => {
    const limit = parseDecimal(word.replace(/(?<!\s)\s*%$/, ""));
    if (limit === undefined || limit.num < 0) throw new UsageError(`"${word}" is not a number from 0`);
    return limit;
  },
});

const atLimitOption = defineOption<"pass" | "fail">({
  flags: "--at-limit <outcome>",
  summary: "With --rule missed: what exactly the limit is, on which the published rule is silent.",
  group: "Method",
  choices: () => ["pass", "fail"],
  defaultText: "open, and counted as not passed",
  parse: (word) => (word === "pass" ? "pass" : "fail"),
});

const firstShareOption = defineOption({
  ...shareOption,
  summary: "Share that was to be checked at first, as 10%; says when a second share or the rest is due.",
});

const sortingTableOption = tableOption(["samples", "steps", "sorters", "lots", "months"], "samples");

export const sorting = defineCommand({
  name: "sorting",
  summary: "how much of a sample its sorter found",
  description:
    "Reads a sheet of sorting checks (sample_id, sorted_count, recovered_count, fraction_checked, sorter) and works out the sorting efficiency, 100 x sorted / (sorted + recovered), of every sample, sorter, lot and month. Where only a part of the residue was checked the animals found are expanded by that part, and it is said so. A sample in which nothing was sorted and nothing found is not computable, which is no failure.\n\nThe table steps says what to do next: recount, add what was found, check a second share or the rest of a sorter's lot. With the sample log (sorter, lot, sorted_on) it knows the samples that are left.\n\nResidues lie in ethanol or formalin: ventilation, no flames, gloves and eye protection, by the safety data sheet and the local code.",
  operands: [{ name: "<check>", summary: "The sheet of sorting checks." }],
  options: [
    samplesOption,
    logOption,
    encodingOption,
    ruleOption,
    limitOption,
    atLimitOption,
    firstShareOption,
    sortingTableOption,
    reportOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally qc sorting qc-sorting-check.csv --samples sample-log.csv",
      explains: "The demo's sorting checks; one of them is under 90 percent, so the exit code is 1.",
    },
    {
      line: "jartally qc sorting qc-sorting-check.csv --samples sample-log.csv --table steps --format csv",
      explains: "What to do next, as rows.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const check = at(input.operands, 0);
    const log = logPath(options);
    if (check === "-" && log === "-") throw new UsageError("standard input (-) can be given once only");
    const rule = settleRule(options);
    const [{ openInput }, { planOutput }, { checkSorting }, run] = await Promise.all([
      import("../../files/input.ts"),
      import("../output.ts"),
      import("../../pipeline/quality/sorting-run.ts"),
      import("./run-quality.ts"),
    ]);
    const world = { stdin: context.stdin, cwd: context.cwd };
    const files = {
      checks: await openInput(check, world),
      sampleLog: log === undefined ? undefined : await openInput(log, world),
      encoding: options.get(encodingOption),
    };
    const plan = await planOutput(context, options, log === undefined ? [check] : [check, log]);
    await run.checkReportFolder(context, options);
    const { share } = options.get(firstShareOption) ?? USUAL_SHARE;
    const result = await checkSorting(files, { rule, share });
    return run.finishQuality(context, options, plan, result, {
      command: "sorting",
      title: "Sorting checks",
      table: options.get(sortingTableOption),
    });
  },
});

function settleRule(options: OptionValues): SortingRule {
  const limit = options.get(limitOption);
  const atLimit = options.get(atLimitOption);
  if (options.get(ruleOption) === "missed") {
    const { percentOfLarger } = MISSED_RULE;
    return {
      kind: "missed",
      limit: limit ?? MISSED_RULE.limit,
      percentOfLarger,
      atLimit: atLimit ?? "undecided",
    };
  }
  if (atLimit !== undefined)
    throw new UsageError("--at-limit belongs to --rule missed; 90 percent itself passes");
  if (limit !== undefined && compareExact(limit, fraction(100)) > 0)
    throw new UsageError("--limit: an efficiency is at most 100 percent");
  return { kind: "efficiency", limitPercent: limit ?? EFFICIENCY_RULE.limitPercent };
}
