import { defineCommand, defineOption, UsageError } from "./define.ts";
import { seedOption } from "./options/draw.ts";
import { encodingOption, namesOption, samplesOption } from "./options/input.ts";
import { MESSAGE_OPTIONS, parseWholeNumber } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

const drawTargetOption = defineOption<number>({
  flags: "--target <n>",
  summary: "Animals to keep of each larger sample.",
  group: "Method",
  parse: (word) => {
    const target = parseWholeNumber(word);
    if (target === 0) throw new UsageError("the target must be at least 1");
    return target;
  },
});

const byOption = defineOption<"individual">({
  flags: "--by <unit>",
  summary: "What is drawn.",
  group: "Method",
  choices: () => ["individual"],
  defaultText: "individual",
  parse: () => "individual",
});

const summaryOption = defineOption<string>({
  flags: "--summary <file>",
  summary: "Write one line a sample of how it was drawn to this file.",
  group: "Output",
  parse: (word) => word,
});

export const subsample = defineCommand({
  name: "subsample",
  summary: "draw each larger sample down to a fixed count",
  description:
    "Draws exactly the target number of animals from each larger sample, at random and without replacement, and writes the counts that remain as a bench sheet that can be fed on. Animals that do not count leave before the draw, so that the target is reached with animals that do; animals of the large/rare search are never drawn; samples below the target are kept whole, and flagged when only a part of them was sorted.\n\nThe same seed and sample id give the same draw for ever, whatever else is in the batch, and the draw is the one that score makes.",
  operands: [{ name: "<sheet...>", summary: "Bench sheets as in score." }],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    byOption,
    drawTargetOption,
    seedOption,
    summaryOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally subsample bench-sheet.csv --samples sample-log.csv --names names.csv --target 200 --seed 7",
      explains: "200 animals of each sample of the demo batch.",
    },
  ],
  run: async (context, input) => {
    const target = input.options.get(drawTargetOption);
    if (target === undefined) throw new UsageError("say how many animals to keep with --target");
    const { planOutput } = await import("./output.ts");
    const { subsampleFiles } = await import("./subsample-run.ts");
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, input.options, opened.paths);
    return subsampleFiles(context, input.options, opened, plan, {
      target,
      seed: input.options.get(seedOption),
      summaryPath: input.options.get(summaryOption),
    });
  },
});
