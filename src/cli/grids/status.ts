import { GRID_ORDER_ALGORITHMS } from "../../subsample/algorithms.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { algorithmOption } from "../options/algorithm.ts";
import { seedOption } from "../options/draw.ts";
import { encodingOption } from "../options/input.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { STOP_OPTIONS, stopChoices, trayOption } from "../options/tray.ts";
import { trayTargetOption } from "./target.ts";

const tableOption = defineOption<"samples" | "stages">({
  flags: "--table <name>",
  summary:
    "Which table is written: a row per sample with its next step, or a row per sample and tray with how the share sorted and the total are built.",
  group: "Output",
  choices: () => ["samples", "stages"],
  defaultText: "samples",
  parse: (word) => (word === "stages" ? "stages" : "samples"),
});

const statusAlgorithmOption = algorithmOption(GRID_ORDER_ALGORITHMS);

export const status = defineCommand({
  name: "status",
  summary: "what comes next at the tray, from the pick log",
  description:
    "Reads back what was picked and says for every sample of the log which grid is next, whether to go on or to stop, when the count is over the range so that the last grid must be spread again and split, when all grids must go on to a second tray, and when everything has been sorted and the sample stays below the target. Seed, tray and rule must be those of the pick sheet.\n\nThe share sorted and the estimated total are built tray by tray: animals found in a part of a grid stand for the rest of that grid only. A total that rests on few grids may be too high where animals sit in clumps, because a crowded grid ends the picking; the finding few-grids says so, and of the metrics only the estimated total and the density rest on it.\n\nA pick log has one row a grid: sample_id, level (1 is the first tray), grid, picked (empty: not yet), and portion for a grid picked in part. Grids that went on to the next tray keep an empty picked, or all that was found when the tray was too dense.",
  operands: [
    { name: "<log>", summary: "The sample log." },
    { name: "<picks>", summary: "The pick log; grids --layout log writes an empty one." },
  ],
  options: [
    encodingOption,
    trayOption,
    trayTargetOption,
    ...STOP_OPTIONS,
    seedOption,
    statusAlgorithmOption,
    tableOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally grids status sample-log.csv picks.csv --target 200 --within 20% --stop-at lower --seed 7",
      explains: "What comes next for every sample of the demo log (here nothing has been picked yet).",
      after: ["jartally grids sample-log.csv --seed 7 --layout log -o picks.csv"],
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const [log = "", picks = ""] = input.operands;
    if (log === "-" && picks === "-") throw new UsageError("standard input (-) can be given once only");
    if (options.get(seedOption) === "random")
      throw new UsageError("--seed random would make another order; give the seed of the pick sheet");
    const [{ openInput }, { planOutput }, { reportTrayStatus }] = await Promise.all([
      import("../../files/input.ts"),
      import("../output.ts"),
      import("./status-run.ts"),
    ]);
    const world = { stdin: context.stdin, cwd: context.cwd };
    const files = {
      log: await openInput(log, world),
      picks: await openInput(picks, world),
      encoding: options.get(encodingOption),
    };
    const plan = await planOutput(context, options, [log, picks]);
    return reportTrayStatus(context, options, files, plan, {
      ...stopChoices(options),
      trays: options.get(trayOption) ?? [],
      target: options.get(trayTargetOption),
      seed: options.get(seedOption),
      algorithm: options.get(statusAlgorithmOption),
      table: options.get(tableOption) ?? "samples",
    });
  },
});
