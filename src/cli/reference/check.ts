import { defineCommand } from "../define.ts";
import { MESSAGE_OPTIONS } from "../options/messages.ts";
import { OUTPUT_OPTIONS } from "../options/output.ts";

export const check = defineCommand({
  name: "check",
  summary: "find what is wrong with sets and with the shared tables",
  description:
    "Checks sets: gaps and overlaps between segments and between classes with the exact values, metrics and strata without thresholds, metrics and settings that are not known, values out of range, names that the tree of taxa does not know, taxa of the set's level without a value, sources without a citation, a key that stands twice. Without a set it checks the shared tables and every set that reference list shows.\n\nErrors and warnings mean exit code 1; notes are facts to know, such as a gap that is the publication's own.",
  operands: [{ name: "[set...]", summary: "Ids that reference list shows, or paths to set folders." }],
  options: [...OUTPUT_OPTIONS, ...MESSAGE_OPTIONS],
  examples: [
    { line: "jartally reference check vennaloo-demo", explains: "Checks one set." },
    { line: "jartally reference check", explains: "Checks the shared tables and every set." },
  ],
  run: async (context, input) => {
    const { checkReference } = await import("./check-run.ts");
    return checkReference(context, input.options, input.operands);
  },
});
