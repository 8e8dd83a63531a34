import { at } from "../../model/at.ts";
import { defineCommand } from "../define.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";

export const show = defineCommand({
  name: "show",
  summary: "all about one set",
  description:
    "Shows what a set is: what it was calibrated for, its level and count rule, how each part was checked, the citation, its metrics with their limits and scores, the rating classes, and the cautions. A page for a person on a terminal; rows of part, name, stratum and value otherwise.",
  operands: [{ name: "<set>", summary: "An id that reference list shows, or a path to a set folder." }],
  options: [...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [
    { line: "jartally reference show hilsenhoff-family-1988", explains: "The page of one set." },
    {
      line: "jartally reference show vennaloo-demo --format csv",
      explains: "The same as rows, for a spreadsheet.",
    },
  ],
  run: async (context, input) => {
    const { showReferenceSet } = await import("./show-run.ts");
    return showReferenceSet(context, input.options, at(input.operands, 0));
  },
});
