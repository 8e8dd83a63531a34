import { defineCommand, defineOption } from "./define.ts";
import { EXIT } from "./exit-codes.ts";
import { seedOption, targetOption } from "./options/draw.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";
import { OUTPUT_OPTIONS } from "./options/output.ts";

const intoOption = defineOption<string>({
  flags: "--into <dir>",
  summary:
    "Copy the demo files into this folder instead, to try the other commands on. It may exist; no file in it is overwritten.",
  group: "Output",
  parse: (word) => word,
});

export const demo = defineCommand({
  name: "demo",
  summary: "the main job on the demo data of an invented watershed",
  description:
    "Scores 37 invented samples of 12 sites with the invented reference set vennaloo-demo, as `jartally score` would. The batch has the troubles of a real one: a sample in two jars, one far under the target, a misspelt name, a fish, a mussel put back. Everything in it is made up; use it to learn.",
  operands: [],
  ignoresSettings: true,
  options: [intoOption, targetOption, seedOption, ...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [
    { line: "jartally demo", explains: "Scores the demo batch." },
    { line: "jartally demo --into vennaloo", explains: "Puts the demo's files into the folder vennaloo." },
  ],
  run: async (context, input) => {
    const { options } = input;
    const { copyDemo, openDemo } = await import("./demo-files.ts");
    const into = options.get(intoOption);
    if (into !== undefined) {
      await context.stderr.write(`${await copyDemo(into, context.cwd)}\n`);
      return EXIT.done;
    }
    const { planOutput } = await import("./output.ts");
    const { scoreFiles } = await import("./score-run.ts");
    const opened = await openDemo(context);
    return scoreFiles(context, options, opened, await planOutput(context, options, []), {
      reference: "vennaloo-demo",
      seed: options.get(seedOption),
      target: options.get(targetOption),
      stratum: undefined,
      layout: "wide",
      allOrNothing: false,
    });
  },
});
