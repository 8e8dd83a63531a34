import { ROW_FLAGS } from "../../model/rows.ts";
import { unknownMessage } from "../../names/name-findings.ts";
import type { Resolution } from "../../names/resolve.ts";
import type { Gathered } from "../prepare-sample.ts";
import { placeOfName } from "../sample-piles.ts";
import type { Batch } from "../score-batch.ts";
import type { RowStory } from "./story.ts";

const FOUND = {
  exact: "as the tree has it",
  spelling: "in another spelling",
  synonym: "through the table of synonyms",
  "lab-list": "through the lab's own list",
} as const;

/** The rows of a sample, in the order of the files. */
export function rowStories({ table, names }: Batch, { rows, piles }: Gathered): RowStory[] {
  const leftOut = new Map(piles.leftOut.map((one) => [one.row, one]));
  return Array.from(rows, (row): RowStory => {
    const name = table.nameAt(row);
    const taxon = names.taxa[name] as number;
    const resolution = names.resolutions[name];
    const out = leftOut.get(row);
    const stage = table.stageAt(row);
    const written = table.names.textOf(name);
    return {
      place: placeOfName(table, row),
      written,
      stage: stage === "unknown" ? (names.stages[name] ?? stage) : stage,
      count: table.countAt(row),
      largeRare: (table.flagsAt(row) & ROW_FLAGS.largeRare) !== 0,
      container: table.rareAt(row)?.container ?? "",
      taxon: taxon < 0 ? "" : names.tree.nameOf(taxon),
      how: resolution === undefined ? "" : howFound(written, resolution),
      fate: taxon < 0 ? "refused" : (out?.what ?? "counts"),
      why: out?.reason ?? "",
    };
  });
}

/** How a name was found, in words. */
function howFound(written: string, resolution: Resolution): string {
  if (resolution.kind === "unknown") return unknownMessage(written, resolution);
  const { via, reason, warning, kind } = resolution;
  return [
    reason === undefined ? FOUND[via] : `${FOUND[via]}: ${reason}`,
    ...(kind === "operational" ? [`a taxon of its own under ${resolution.operational.parent}`] : []),
    ...(warning === undefined ? [] : [warning.text]),
  ].join("; ");
}
