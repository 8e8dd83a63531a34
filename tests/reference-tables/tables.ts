import { readdirSync, readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";

/** The folder under test. */
export const TABLES = new URL("../../reference-tables/", import.meta.url);

/** Columns of every table; a table whose header differs fails in `readTable`. */
export const COLUMNS = {
  sources: ["source_id", "citation", "year", "url", "licence_or_status", "how_seen"],
  taxa: [
    "taxon",
    "rank",
    "parent",
    "status",
    "count_policy",
    "count_reason",
    "common_group",
    "tsn",
    "source_id",
    "placement_source_id",
  ],
  lifeStages: ["taxon", "life_stage", "count_policy", "count_reason", "source_id", "verified"],
  synonyms: ["name", "accepted_name", "kind", "candidates", "reason", "source_id"],
  schemes: ["scheme", "attribute", "level", "min", "max", "direction", "region", "source_id", "file", "note"],
  tolerance: ["taxon", "value", "source_id", "verified", "name_in_source"],
  traits: ["taxon", "value", "source_id", "verified"],
  scoreAs: ["scheme", "taxon", "score_as", "reason", "source_id", "verified"],
  thresholds: [
    "stratum",
    "metric",
    "basis",
    "lower",
    "lower_included",
    "upper",
    "upper_included",
    "score_at_lower",
    "score_at_upper",
    "covariate",
    "lower_slope",
    "upper_slope",
    "note",
  ],
} as const;

type Row<C extends string> = Readonly<Record<C, string>>;

export function readText(path: string): string {
  return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(
    readFileSync(new URL(path, TABLES)),
  );
}

/**
 * Reads a table whose header is exactly `columns`.
 *
 * @throws Error when the header differs; csv-parse throws on ragged rows and bad quoting
 */
export function readTable<C extends string>(path: string, columns: readonly C[]): Row<C>[] {
  const [header = [], ...rows]: string[][] = parse(readText(path), { record_delimiter: "\n" });
  if (header.join() !== columns.join()) throw new Error(`${path}: header is ${header.join()}`);
  // The header was compared just now: every cell of a row has its column.
  return rows.map((cells) => Object.fromEntries(columns.map((c, i) => [c, cells[i] ?? ""])) as Row<C>);
}

/** Every cell of a table, header included. */
export function cellsOf(path: string): string[] {
  const rows: string[][] = parse(readText(path), { record_delimiter: "\n" });
  return rows.flat();
}

/** Paths of all CSV files below a folder of the tables, in code point order. */
export function csvFiles(folder = ""): string[] {
  return readdirSync(new URL(folder, TABLES), { recursive: true, encoding: "utf8" })
    .map((name) => `${folder}${name.replaceAll("\\", "/")}`)
    .filter((name) => name.endsWith(".csv"))
    .sort();
}

export const sources = readTable("sources.csv", COLUMNS.sources);
export const taxa = readTable("taxa/taxa.csv", COLUMNS.taxa);
export const lifeStages = readTable("taxa/life-stages.csv", COLUMNS.lifeStages);
export const synonyms = readTable("taxa/synonyms.csv", COLUMNS.synonyms);
export const schemes = readTable("attributes/schemes.csv", COLUMNS.schemes);
export const scoreAs = readTable("attributes/score-as.csv", COLUMNS.scoreAs);

/** Rows of one scheme's table; tolerance tables carry the printed name besides. */
export function schemeRows(
  scheme: (typeof schemes)[number],
): Row<"taxon" | "value" | "source_id" | "verified">[] {
  const path = `attributes/${scheme.file}`;
  return scheme.attribute === "tolerance"
    ? readTable(path, COLUMNS.tolerance)
    : readTable(path, COLUMNS.traits);
}

/** Rows of a scheme by its id. @throws Error for an unknown id */
export function rowsOf(id: string): ReturnType<typeof schemeRows> {
  const scheme = schemes.find((s) => s.scheme === id);
  if (scheme === undefined) throw new Error(`no scheme ${id}`);
  return schemeRows(scheme);
}

/** The value of a taxon in a scheme as written, without looking at its ancestors. */
export function writtenValue(id: string, taxon: string): string | undefined {
  return rowsOf(id).find((row) => row.taxon === taxon)?.value;
}

export const taxonByName: ReadonlyMap<string, (typeof taxa)[number]> = new Map(
  taxa.map((row) => [row.taxon, row]),
);

/** The taxon itself, its parent and so on up to the root. */
export function lineage(taxon: string): string[] {
  const line: string[] = [];
  for (let at = taxonByName.get(taxon); at !== undefined; at = taxonByName.get(at.parent))
    line.push(at.taxon);
  return line;
}

/** Values that stand more than once. */
export function repeated(values: readonly string[]): string[] {
  const seen = new Set<string>();
  return values.filter((value) => seen.size === seen.add(value).size);
}

/** What happens to an animal of a taxon and stage, worked out as the README of the tables says. */
export function effectivePolicy(taxon: string, stage = ""): { policy: string; reason: string } {
  const line = lineage(taxon);
  for (const at of line) {
    const row = lifeStages.find((r) => r.taxon === at && r.life_stage === stage);
    if (row !== undefined) return { policy: row.count_policy, reason: row.count_reason };
  }
  for (const at of line) {
    const row = taxonByName.get(at);
    if (row !== undefined && row.count_policy !== "")
      return { policy: row.count_policy, reason: row.count_reason };
  }
  throw new Error(`no policy for ${taxon}`);
}
