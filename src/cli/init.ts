import { defineCommand } from "./define.ts";
import { EXIT } from "./exit-codes.ts";
import { referenceOption } from "./options/input.ts";
import { MESSAGE_OPTIONS, quietOption } from "./options/messages.ts";

export const init = defineCommand({
  name: "init",
  summary: "starts a lab folder: empty sheets, settings, a guide",
  description:
    'Makes a new folder with an empty sheet of every kind, each with its headers; the settings file jartally.json, which names them so that commands called in the folder need not; and a guide with the steps of a batch and the cautions for ethanol, formalin, glass and protected animals. The folder appears whole or not at all, and one that is there already is never touched (exit code 4).\n\nSettings are the defaults of options, by their long names, for all commands or for one: {"samples": "sample-log.csv", "score": {"seed": 7}}. Options on the command line win over them, a command says which it used, and --no-settings leaves them out. A setting that no command knows is an error with its place, exit code 2. completion, demo, init and rescore take no settings, and files to write are never among them.',
  operands: [{ name: "<dir>", summary: "The folder to make." }],
  ignoresSettings: true,
  options: [referenceOption, ...MESSAGE_OPTIONS],
  examples: [
    { line: "jartally init lab-2024", explains: "An empty lab folder." },
    {
      line: "jartally init lab-2025 --reference vennaloo-demo",
      explains: "One whose settings name a reference set, here the invented one of the demo.",
    },
  ],
  run: async (context, { operands, options }) => {
    const { startLab } = await import("./init-run.ts");
    const [dir = ""] = operands;
    const said = await startLab(dir, options.get(referenceOption), context.cwd);
    if (options.get(quietOption) !== true) await context.stderr.write(`${said}\n`);
    return EXIT.done;
  },
});
