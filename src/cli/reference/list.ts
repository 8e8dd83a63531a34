import { defineCommand } from "../define.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";

export const list = defineCommand({
  name: "list",
  summary: "the sets that can be used by their id",
  description:
    "Lists the sets of the package and those in reference-tables/sets of the current folder: what each is, its region and level, how many animals it counts, whether it takes counts or (its attribute list being not held) only metric values (score --from metrics, or a stand-in list with --attributes), and how its numbers were checked: 'checked' (records published with their answers reproduce), 'transcribed' (read in the publication), 'memory' (recalled, at least in part: check before use) or 'invented'.",
  operands: [],
  options: [...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [{ line: "jartally reference list", explains: "One line a set." }],
  run: async (context, input) => {
    const { listReferenceSets } = await import("./list-run.ts");
    return listReferenceSets(context, input.options);
  },
});
