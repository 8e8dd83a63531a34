import { at } from "../../model/at.ts";
import { defineCommand, defineOption, UsageError } from "../define.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";

const fromOption = defineOption<string>({
  flags: "--from <set>",
  summary: "The set to copy: an id that reference list shows, or a path to a set folder.",
  group: "Method",
  parse: (word) => word,
});

export const newSet = defineCommand({
  name: "new",
  summary: "a copy of a set to make one's own",
  description:
    "Copies a set into a new folder that stands alone: every attribute value it uses is in its taxa.csv, every source in its sources.csv, and the JSON Schema of set.json lies beside it, so that an editor completes and checks what is typed. The last name of the folder becomes the id of the set. A folder that is there already is never touched.",
  operands: [{ name: "<dir>", summary: "The new folder." }],
  options: [fromOption, ...MESSAGE_OPTIONS],
  required: [{ option: fromOption }],
  examples: [
    {
      line: "jartally reference new my-own-index --from vennaloo-demo",
      explains: "A copy of the demo set, to try what a changed limit does.",
    },
  ],
  run: async (context, input) => {
    const from = input.options.get(fromOption);
    if (from === undefined)
      throw new UsageError("name the set to copy with --from", "jartally reference list shows them");
    const { newReferenceSet } = await import("./new-run.ts");
    return newReferenceSet(context, input.options, at(input.operands, 0), from);
  },
});
