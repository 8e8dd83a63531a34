import { defineCommand } from "../define.ts";
import { check } from "./check.ts";
import { compare } from "./compare.ts";
import { list } from "./list.ts";
import { newSet } from "./new.ts";
import { show } from "./show.ts";

export const reference = defineCommand({
  name: "reference",
  summary: "the reference sets: list, show, check, compare, make your own",
  description:
    "A reference set is a folder of tables that turns metric values into scores, an index and a rating for one region, season, gear and level of identification. A new index is a new folder, no program. Every set says how its numbers were checked; outside what it was calibrated for its scores mean nothing without the responsible agency's method.",
  operands: [],
  options: [],
  examples: [
    { line: "jartally reference list", explains: "Every set that can be used by its id." },
    { line: "jartally reference show vennaloo-demo", explains: "All about one set." },
  ],
  subcommands: [list, show, check, compare, newSet],
});
