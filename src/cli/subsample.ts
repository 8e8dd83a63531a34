import { LARGEST_TARGET } from "../model/largest-target.ts";
import { GRID_ALGORITHMS, INDIVIDUAL_ALGORITHMS } from "../subsample/algorithms.ts";
import type { OptionDefinition, OptionValues } from "./define.ts";
import { defineCommand, defineOption, defineSwitch, UsageError } from "./define.ts";
import { algorithmOption, refuseOtherKind } from "./options/algorithm.ts";
import { seedOption, tooLarge } from "./options/draw.ts";
import { encodingOption, namesOption, samplesOption } from "./options/input.ts";
import { MESSAGE_OPTIONS, parseWholeNumber } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";
import {
  atLeastOption,
  lastGridOption,
  STOP_OPTIONS,
  stopAtOption,
  stopChoices,
  trayOption,
  withinOption,
} from "./options/tray.ts";
import type { SubsampleChoices } from "./subsample-choices.ts";

const drawTargetOption = defineOption<number>({
  flags: "--target <n>",
  summary: "Animals to keep of each larger sample.",
  group: "Method",
  parse: (word) => {
    const target = parseWholeNumber(word);
    if (target === 0) throw new UsageError("the target must be at least 1");
    if (target > LARGEST_TARGET) throw tooLarge(target);
    return target;
  },
});

const byOption = defineOption<"individual" | "grid">({
  flags: "--by <unit>",
  summary:
    "What is drawn: single animals up to exactly the target, or grids of the tray until the range of the target is reached (sheets with the grid of each animal; --within, --stop-at, --at-least, --last-grid and --tray are about those).",
  group: "Method",
  choices: () => ["individual", "grid"],
  defaultText: "individual",
  parse: (word) => (word === "grid" ? "grid" : "individual"),
});

const drawsOption = defineOption<number>({
  flags: "--draws <k>",
  summary:
    "Draw each sample so often; the column draw tells the draws apart, and the first is the one made without this option.",
  group: "Method",
  defaultText: "1",
  parse: (word) => {
    const draws = parseWholeNumber(word);
    if (draws < 1 || draws > MOST_DRAWS) throw new UsageError(`draw from 1 to ${MOST_DRAWS} times`);
    return draws;
  },
});

const MOST_DRAWS = 100_000;

const expectedOption = defineSwitch({
  flags: "--expected",
  summary:
    "Draw nothing: write the richness to expect among the target of animals, and its standard error, a row per sample.",
  group: "Output",
});

const drawAlgorithmOption = algorithmOption([...INDIVIDUAL_ALGORITHMS, ...GRID_ALGORITHMS]);

const summaryOption = defineOption<string>({
  flags: "--summary <file>",
  summary:
    "Write one line a sample of how it was drawn to this file: grids in the order drawn, fraction sorted, estimated total and density, seed, algorithm with its version.",
  group: "Output",
  parse: (word) => word,
});

export const subsample = defineCommand({
  name: "subsample",
  summary: "draw each larger sample down to a fixed count",
  description:
    "Draws exactly the target number of animals from each larger sample, at random and without replacement, or whole grids in random order until the target is reached, and writes the counts that remain as a bench sheet that can be fed on. Animals that do not count leave before the draw, so that the target is reached with animals that do; animals of the large/rare search are never drawn; samples below the target are kept whole, and flagged when only a part of them was sorted. A fully sorted sample without animals has the status empty.\n\nThe same seed and sample id give the same draw for ever, whatever else is in the batch, and a draw by individual is the one that score makes. To score a draw by grid, feed the sheet to score with --target none; rows of several draws must be parted first. The log goes on describing what was sorted, not what was drawn.\n\nWith --by grid the summary's fraction sorted is the share that the kept animals stand for. A total that rests on few grids may be too high where animals sit in clumps (finding few-grids); of the metrics only the estimated total and the density rest on it.",
  operands: [{ name: "<sheet...>", summary: "Bench sheets as in score." }],
  options: [
    samplesOption,
    namesOption,
    encodingOption,
    drawTargetOption,
    byOption,
    ...STOP_OPTIONS,
    trayOption,
    drawsOption,
    seedOption,
    drawAlgorithmOption,
    expectedOption,
    summaryOption,
    ...OUTPUT_OPTIONS,
    ...MESSAGE_OPTIONS,
  ],
  required: [{ option: drawTargetOption }],
  examples: [
    {
      line: "jartally subsample bench-sheet.csv --samples sample-log.csv --names names.csv --target 200 --seed 7",
      explains: "200 animals of each sample of the demo batch.",
    },
    {
      line: "jartally subsample bench-sheet.csv --samples sample-log.csv --names names.csv --target 100 --expected",
      explains: "The taxa to expect among 100 animals of each sample, without a draw.",
    },
  ],
  run: async (context, input) => {
    const { options } = input;
    const target = options.get(drawTargetOption);
    if (target === undefined) throw new UsageError("say how many animals to keep with --target");
    const choices = settleChoices(options, target);
    const { planOutput } = await import("./output.ts");
    const { openBatch } = await import("./batch-input.ts");
    const opened = await openBatch(context, input);
    const plan = await planOutput(context, options, opened.paths);
    if (options.get(expectedOption) === true) {
      const { expectFiles } = await import("./expected-run.ts");
      return expectFiles(context, options, opened, plan, target);
    }
    const { subsampleFiles } = await import("./subsample-run.ts");
    return subsampleFiles(context, options, opened, plan, choices);
  },
});

function settleChoices(options: OptionValues, target: number): SubsampleChoices {
  const by = options.get(byOption) ?? "individual";
  const algorithm = options.get(drawAlgorithmOption);
  if (options.get(expectedOption) === true)
    refuse(
      options,
      [byOption, drawsOption, seedOption, drawAlgorithmOption, summaryOption, ...GRID_OPTIONS],
      "is about a draw, and --expected makes none",
    );
  if (by === "individual") {
    refuse(options, GRID_OPTIONS, "is about grids and needs --by grid");
    refuseOtherKind(algorithm, INDIVIDUAL_ALGORITHMS, "draw single animals");
  } else refuseOtherKind(algorithm, GRID_ALGORITHMS, "draw by grid");
  return {
    by,
    target,
    stop: stopChoices(options),
    trays: options.get(trayOption) ?? [],
    draws: options.get(drawsOption),
    seed: options.get(seedOption),
    algorithm,
    summaryPath: options.get(summaryOption),
  };
}

const GRID_OPTIONS = [withinOption, stopAtOption, atLeastOption, lastGridOption, trayOption];

/** Silence would let one believe that an option was heeded. */
function refuse(
  options: OptionValues,
  // biome-ignore lint/suspicious/noExplicitAny: options of different types, none of which is read
  refused: readonly OptionDefinition<any>[],
  why: string,
): void {
  const given = refused.find((option) => options.get(option) !== undefined);
  if (given !== undefined) throw new UsageError(`${given.flags.split(" ")[0]} ${why}`);
}
