import { at } from "../../model/at.ts";
import { GRID_ORDER_ALGORITHMS } from "../../subsample/algorithms.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { algorithmOption } from "../options/algorithm.ts";
import { seedOption } from "../options/draw.ts";
import { encodingOption } from "../options/input.ts";
import { MESSAGE_OPTIONS, parseWholeNumber } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";
import { STOP_OPTIONS, stopChoices, trayOption } from "../options/tray.ts";
import { status } from "./status.ts";
import { trayTargetOption } from "./target.ts";

const pagesOption = defineOption<string>({
  flags: "--pages <file>",
  summary:
    "Also write pick sheets to print, one page a sample: FILE.html with a picture of the tray, or FILE.txt in plain text.",
  group: "Output",
  parse: (word) => {
    if (!/\.(html?|txt)$/i.test(word)) throw new UsageError(`"${word}" ends neither in .html nor in .txt`);
    return word;
  },
});

const layoutOption = defineOption<"order" | "log">({
  flags: "--layout <kind>",
  summary:
    "The order alone, or an empty pick log in the order of picking, to be filled in and read by grids status.",
  group: "Output",
  choices: () => ["order", "log"],
  defaultText: "order",
  parse: (word) => (word === "log" ? "log" : "order"),
});

const levelOption = defineOption<number>({
  flags: "--level <n>",
  summary: "The order of this tray: 2 is the one onto which grids go that are too dense.",
  group: "Method",
  defaultText: "1",
  parse: (word) => {
    const level = parseWholeNumber(word);
    if (level < 1 || level > 9) throw new UsageError("trays are counted from 1 to 9");
    return level;
  },
});

const orderAlgorithmOption = algorithmOption(GRID_ORDER_ALGORITHMS);

export const grids = defineCommand({
  name: "grids",
  summary: "a random grid order for every sample: the pick sheet to take to the tray",
  description:
    "Puts all grids of each sample's tray in random order: columns sample_id, order, grid. Grids are numbered row by row from 1. The same seed and sample id give the same order for ever, whatever else is in the batch. With --pages it also writes a sheet per sample to print: the numbered tray, boxes to tick, the order, the target, the edge rule (an animal on a line belongs to the grid that holds its head, or most of its body when the head cannot be told) and the cautions.\n\nWrite what was picked into a pick log (sample_id, level, grid, picked; portion for a grid that was picked in part) and ask grids status what comes next, with the same seed, tray and rule.",
  operands: [{ name: "<log>", summary: "The sample log; its columns tray and target are used." }],
  options: [
    encodingOption,
    trayOption,
    levelOption,
    trayTargetOption,
    ...STOP_OPTIONS,
    seedOption,
    orderAlgorithmOption,
    layoutOption,
    pagesOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  examples: [
    {
      line: "jartally grids sample-log.csv --tray 5x6 --target 200 --at-least 4 --seed 7 -o order.csv --pages pick-sheets.html",
      explains: "The order of every tray of the demo log, and the sheets to print.",
    },
  ],
  subcommands: [status],
  run: async (context, input) => {
    const { options } = input;
    const log = at(input.operands, 0);
    const [{ openInput }, { planOutput }, { writeGridOrders }] = await Promise.all([
      import("../../files/input.ts"),
      import("../output.ts"),
      import("./grids-run.ts"),
    ]);
    const opened = await openInput(log, { stdin: context.stdin, cwd: context.cwd });
    const plan = await planOutput(context, options, [log]);
    return writeGridOrders(context, options, { log: opened, paths: [log] }, plan, {
      ...stopChoices(options),
      trays: options.get(trayOption) ?? [],
      target: options.get(trayTargetOption),
      seed: options.get(seedOption),
      algorithm: options.get(orderAlgorithmOption),
      level: options.get(levelOption) ?? 1,
      layout: options.get(layoutOption) ?? "order",
      pages: options.get(pagesOption),
      encoding: options.get(encodingOption),
    });
  },
});
