import { defineCommand } from "./define.ts";
import { encodingOption, namesOption, referenceOption, samplesOption } from "./options/input.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

export const check = defineCommand({
  name: "check",
  summary: "read and check everything; say what is ready, held back or missing",
  description:
    "Reads bench sheets and, where given, the sample log, the list of names and the reference set; checks every row, name, jar and date and prints what it finds, each with file, line and column. Nothing is changed. The table lists every sample: ready to be scored, held back (jars missing), refused (a fault to correct) or missing (in the log, no counts).",
  operands: [{ name: "<sheet...>", summary: "Bench sheets as in score." }],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    referenceOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally check bench-sheet.csv --samples sample-log.csv --names names.csv",
      explains: "Checks the demo batch before anything is scored.",
    },
  ],
  run: async (context, input) => {
    const { planOutput } = await import("./output.ts");
    const { checkFiles } = await import("./check-run.ts");
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, input.options, opened.paths);
    return checkFiles(context, input.options, opened, plan, input.options.get(referenceOption));
  },
});
