import { defineCommand, UsageError } from "../define.ts";
import { EXIT } from "../exit-codes.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { SHELLS } from "./shells.ts";

export const completion = defineCommand({
  name: "completion",
  summary: "let the tab key complete commands, options, sets, metrics and samples",
  description:
    "Prints a script that teaches a shell to complete jartally: commands, options and their choices, reference sets, names of metrics, strata and class tables of the set named, and the sample ids of the sheet that is already on the line. The script asks the program at every press of the tab key, so it need not be printed again for a later version.\n\nSwitch it on for good with `source <(jartally completion bash)` in ~/.bashrc; for zsh with `jartally completion zsh > DIR/_jartally`, where DIR is a folder of $fpath; for fish with `jartally completion fish > ~/.config/fish/completions/jartally.fish`.",
  operands: [{ name: "<shell>", summary: "The shell: bash, zsh or fish.", choices: () => SHELLS }],
  // The lines of a shell's start are the same in every folder.
  ignoresSettings: true,
  options: MESSAGE_OPTIONS,
  examples: [{ line: "jartally completion bash", explains: "The script for bash." }],
  run: async (context, { operands: [word = ""] }) => {
    const { COMPLETION_SCRIPTS } = await import("./scripts.ts");
    const shell = SHELLS.find((one) => one === word);
    if (shell === undefined) {
      throw new UsageError(
        `"${word}" is no shell that can be completed`,
        `it is one of ${SHELLS.join(", ")}`,
      );
    }
    await context.stdout.write(COMPLETION_SCRIPTS[shell]);
    return EXIT.done;
  },
});
