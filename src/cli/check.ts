import { defineCommand } from "./define.ts";
import { encodingOption, namesOption, referenceOption, samplesOption } from "./options/input.ts";
import { alertsOption, todayOption, writeNamesOption } from "./options/intake.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

export const check = defineCommand({
  name: "check",
  summary: "read and check everything; say what is ready, held back or missing",
  description:
    "Reads bench sheets and, where given, the sample log, the list of names and the reference set; checks every row, name, jar and date and prints what it finds, each with file, line and column. Nothing is changed. The table lists every sample: ready to be scored, held back (jars missing), refused (a fault to correct) or missing (in the log, no counts), and what does not wait: jars whose preservative is too little or too weak.\n\nOf the sample log it checks jars received against jars expected, the labels outside and inside, dates (none after today, in order, in the set's season), preservative (at least half of the jar; ethanol of at least 70 percent once the water of the sample is in it; neither for formalin), area, coordinates, strata, facts that all samples of a site share, and that duplicates point to a sample that is there.",
  operands: [{ name: "<sheet...>", summary: "Bench sheets as in score." }],
  options: [
    samplesOption,
    namesOption,
    alertsOption,
    encodingOption,
    referenceOption,
    todayOption,
    writeNamesOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally check bench-sheet.csv --samples sample-log.csv --names names.csv",
      explains: "Checks the demo batch before anything is scored.",
    },
    {
      line: "jartally check bench-sheet.csv --samples sample-log.csv --names names.csv --write-names to-decide.csv",
      explains: "The same, and a list of the names that a person has to decide.",
    },
  ],
  run: async (context, input) => {
    const { planOutput } = await import("./output.ts");
    const { checkFiles } = await import("./check-run.ts");
    const { planNames } = await import("./write-names.ts");
    const { openBatch } = await import("./batch-input.ts");
    const { openInput } = await import("../files/input.ts");
    const { options } = input;
    const opened = await openBatch(context, input);
    const alertsPath = options.get(alertsOption);
    const alerts =
      alertsPath === undefined
        ? undefined
        : await openInput(alertsPath, { stdin: context.stdin, cwd: context.cwd });
    const paths = alertsPath === undefined ? opened.paths : [...opened.paths, alertsPath];
    const plan = await planOutput(context, options, paths);
    const namesPlan = await planNames(context, options, options.get(writeNamesOption), paths);
    return checkFiles(context, options, opened, plan, {
      reference: options.get(referenceOption),
      today: options.get(todayOption) ?? context.today(),
      alerts,
      names: namesPlan,
    });
  },
});
