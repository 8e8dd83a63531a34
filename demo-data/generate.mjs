/**
 * Remakes the generated files of this folder, byte for byte:
 *
 *     node demo-data/generate.mjs [FOLDER]
 *
 * FOLDER is where they go (made when missing); this folder when left out. The watershed, its sites, crews and
 * animals are invented; README.md says so and says what is in the files.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { csvText } from "./generator/csv.mjs";
import { NAME_DECISIONS } from "./generator/names.mjs";
import { inventSamples } from "./generator/samples.mjs";
import { addTroubles } from "./generator/troubles.mjs";

/** Another seed is another watershed: README, thresholds of the demo set and tests speak of this one. */
const SEED = 1;

const BENCH_COLUMNS = [
  "sample_id",
  "taxon",
  "count",
  "life_stage",
  "container",
  "part",
  "disposition",
  "condition",
  "identified_by",
  "note",
];

const LOG_COLUMNS = [
  "sample_id",
  "site_id",
  "collected_on",
  "received_on",
  "project",
  "waterbody",
  "stratum",
  "latitude",
  "longitude",
  "datum",
  "gear",
  "mesh_um",
  "habitat",
  "replicate",
  "area_sampled_m2",
  "tray",
  "grids_sorted",
  "fraction_sorted",
  "target",
  "containers_expected",
  "containers_received",
  "preservative",
  "preservative_fraction",
  "ethanol_percent",
  "lot",
  "sorter",
  "taxonomist",
  "duplicate_of",
  "crew",
  "note",
];

const folder = process.argv[2] ?? fileURLToPath(new URL(".", import.meta.url));
const samples = addTroubles(SEED, inventSamples(SEED));
const files = {
  "bench-sheet.csv": csvText(
    BENCH_COLUMNS,
    samples.flatMap((sample) => sample.rows),
  ),
  "sample-log.csv": csvText(
    LOG_COLUMNS,
    samples.map((sample) => sample.log),
  ),
  "names.csv": csvText(["sheet_name", "accepted_name", "note"], NAME_DECISIONS),
};

mkdirSync(folder, { recursive: true });
for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
