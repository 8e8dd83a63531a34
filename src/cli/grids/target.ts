import { defineOption, UsageError } from "../define.ts";
import { parseWholeNumber } from "../options/messages.ts";

/** The target at the tray, the same for every sample. */
export const trayTargetOption = defineOption<number>({
  flags: "--target <n>",
  summary: "Animals to be picked of every sample.",
  group: "Method",
  defaultText: "the log's target, else 200",
  parse: (word) => {
    const target = parseWholeNumber(word);
    if (target === 0) throw new UsageError("the target must be at least 1");
    return target;
  },
});
