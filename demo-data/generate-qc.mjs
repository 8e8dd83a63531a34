/**
 * Remakes the files of this folder that show quality control, byte for byte:
 *
 *     node demo-data/generate-qc.mjs [FOLDER]
 *
 * FOLDER is where they go (made when missing); this folder when left out. The bench sheet is read from this
 * folder. Checks, second opinions, scores and people are invented; README.md says so.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { csvText } from "./generator/csv.mjs";
import { DUPLICATE_VISITS, logRow, scoreRow } from "./generator/qc-duplicates.mjs";
import { RECHECKS, recheckRows } from "./generator/qc-recheck.mjs";
import { SORTING_CHECKS, sortedCount } from "./generator/qc-sorting.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const target = process.argv[2] ?? here;
// No field of the demo's bench sheet that is used here holds a comma; only its notes are quoted.
const [header, ...lines] = readFileSync(join(here, "bench-sheet.csv"), "utf8").trimEnd().split("\n");
const columns = header.split(",");
const bench = lines.map((line) => {
  const cells = line.split(",");
  return Object.fromEntries(columns.map((column, at) => [column, cells[at] ?? ""]));
});

const files = {
  "qc-sorting-check.csv": csvText(
    ["sample_id", "sorted_count", "recovered_count", "fraction_checked", "sorter", "note"],
    SORTING_CHECKS.map((check) => ({ ...check, sorted_count: sortedCount(bench, check.sample_id) })),
  ),
  "qc-recheck-sheet.csv": csvText(
    ["sample_id", "taxon", "count", "life_stage", "identified_by", "identified_on"],
    RECHECKS.flatMap((recheck) => recheckRows(bench, recheck)),
  ),
  "qc-duplicates-log.csv": csvText(
    ["sample_id", "site_id", "collected_on", "stratum", "duplicate_of"],
    DUPLICATE_VISITS.flatMap((visit) => visit.samples.map((_, at) => logRow(visit, at))),
  ),
  "qc-scores.csv": csvText(
    [
      "sample_id",
      "site_id",
      "collected_on",
      "stratum",
      "status",
      "index",
      "rating",
      "taxa_richness",
      "ept_richness",
      "percent_dominant_taxon",
      "tolerance_index",
    ],
    DUPLICATE_VISITS.flatMap((visit) => visit.samples.map((_, at) => scoreRow(visit, at))),
  ),
};

mkdirSync(target, { recursive: true });
for (const [name, text] of Object.entries(files)) writeFileSync(join(target, name), text);
