import { defineCommand } from "../define.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";

export const compare = defineCommand({
  name: "compare",
  summary: "in what two sets differ, row by row",
  description:
    "Compares two sets: description, level, count rule, metrics and settings, every segment of the thresholds, every rating class, every attribute value. One row for each difference; no row means that the two score alike.",
  operands: [
    { name: "<first>", summary: "An id that reference list shows, or a path to a set folder." },
    { name: "<second>", summary: "The other set." },
  ],
  options: [...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [
    {
      line: "jartally reference compare puget-lowland-genus-1999 puget-lowland-species-family",
      explains: "What changes when a lab goes from genus to species.",
    },
  ],
  run: async (context, input) => {
    const { compareReference } = await import("./compare-run.ts");
    const [first = "", second = ""] = input.operands;
    return compareReference(context, input.options, first, second);
  },
});
