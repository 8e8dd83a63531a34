import { distance } from "fastest-levenshtein";
import type { HeaderCell } from "../files/table-reading.ts";

/** Words that labs write for a column that has another name here, letters only; common practice, no source. */
const OTHER_WORDS: ReadonlyMap<string, string> = new Map([
  ["jar", "container"],
  ["jarnumber", "container"],
  ["bottle", "container"],
  ["vial", "slide_or_vial"],
  ["largerare", "part"],
  ["released", "disposition"],
  ["status", "disposition"],
  ["square", "grid"],
  ["gridnumber", "grid"],
  ["jarsexpected", "containers_expected"],
  ["jarsreceived", "containers_received"],
  ["fraction", "fraction_sorted"],
  ["subsample", "fraction_sorted"],
  ["region", "stratum"],
  ["ecoregion", "stratum"],
  ["bioregion", "stratum"],
  ["streamclass", "stratum"],
  ["date", "collected_on"],
  ["sampledate", "collected_on"],
  ["datecollected", "collected_on"],
  ["site", "site_id"],
  ["station", "site_id"],
  ["stationid", "site_id"],
  ["area", "area_sampled_m2"],
  ["mesh", "mesh_um"],
  ["sample", "sample_id"],
  ["samplenumber", "sample_id"],
  ["sampleno", "sample_id"],
  ["samplecode", "sample_id"],
  ["taxonname", "taxon"],
  ["taxa", "taxon"],
  ["scientificname", "taxon"],
  ["species", "taxon"],
  ["organism", "taxon"],
  ["animal", "taxon"],
  ["name", "taxon"],
  ["number", "count"],
  ["no", "count"],
  ["n", "count"],
  ["abundance", "count"],
  ["individuals", "count"],
  ["total", "count"],
  ["quantity", "count"],
  ["sorted", "sorted_count"],
  ["recovered", "recovered_count"],
  ["found", "recovered_count"],
  ["missed", "recovered_count"],
  ["nameonsheet", "sheet_name"],
  ["acceptedname", "accepted_name"],
]);

/** A column that is not read, and the known one that is likely meant. */
export interface UnusedColumn {
  readonly cell: HeaderCell;
  readonly meant: string | undefined;
}

/**
 * Says of every column that is not read whether it looks like a known one: the same letters, a slip of one or
 * two, or another word of the trade. A known column that is there already is meant by no other.
 *
 * @param keys known columns that the table has
 */
export function unusedColumns(
  extra: readonly HeaderCell[],
  known: readonly string[],
  keys: ReadonlyMap<string, unknown>,
): UnusedColumn[] {
  const open = known.filter((name) => !keys.has(name));
  return extra.map((cell) => ({ cell, meant: meantColumn(cell.text, open) }));
}

/** The known column that a header likely means, among those that are open. */
export function meantColumn(header: string, open: readonly string[]): string | undefined {
  const letters = lettersOf(header);
  const word = OTHER_WORDS.get(letters);
  if (word !== undefined) return open.includes(word) ? word : undefined;
  if (letters.length < 4) return undefined;
  const limit = letters.length < 8 ? 1 : 2;
  return open.find((name) => distance(letters, lettersOf(name)) <= limit);
}

function lettersOf(text: string): string {
  return text
    .normalize("NFC")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");
}
