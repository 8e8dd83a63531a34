import { defineCommand } from "../define.ts";
import { choose } from "./choose.ts";
import { duplicates } from "./duplicates.ts";
import { identification } from "./identification.ts";
import { sorting } from "./sorting.ts";

export const qc = defineCommand({
  name: "qc",
  summary: "quality figures against stated limits: sorting, identification, duplicates",
  description:
    "The figures a laboratory shows to whoever relies on its scores, worked out from the files it already has: which samples a second person checks, how much the sorters missed, how far two taxonomists agree, and how far two samples of one riffle lie apart. A limit that is missed ends the command with exit code 1 and is named, with by how much. A figure that cannot be computed is neither a pass nor a failure.\n\nLimits are decided on exact numbers, and the limit itself passes. A limit missed asks for a look at the reasons; it does not reject data by itself.",
  operands: [],
  options: [],
  examples: [
    {
      line: "jartally qc choose sample-log.csv --share 10% --by lot --seed 7",
      explains: "First: a tenth of every lot, for a second person to check.",
    },
    {
      line: "jartally qc sorting qc-sorting-check.csv --samples sample-log.csv",
      explains: "Then: what the check of their residues says.",
    },
  ],
  subcommands: [choose, sorting, identification, duplicates],
});
