import { FileError } from "../files/file-error.ts";
import type { AttributeScheme, AttributeValue } from "../model/attributes.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import type { SharedFiles } from "./shared-files.ts";
import { oneOf, optionalNumber } from "./table-cells.ts";

export const SCHEMES_FILE = "attributes/schemes.csv";
export const SCORE_AS_FILE = "attributes/score-as.csv";

const SCHEME_COLUMNS = [
  "scheme",
  "attribute",
  "level",
  "min",
  "max",
  "direction",
  "region",
  "source_id",
  "file",
  "note",
];
const DIRECTIONS = ["", "higher-is-tolerant", "higher-is-sensitive"] as const;

/** A scheme and where its values are. */
export interface SchemeRow extends AttributeScheme {
  /** Path below the folder of the tables. */
  readonly file: string;
}

/** The schemes of attribute values, in the order of their table. */
export function readSchemes(files: SharedFiles): Map<string, SchemeRow> {
  const file = files.pathOf(SCHEMES_FILE);
  const { rows, cell } = files.table(SCHEMES_FILE, SCHEME_COLUMNS);
  const schemes = new Map<string, SchemeRow>();
  for (const row of rows) {
    const { line } = row;
    const scheme = cell(row, "scheme");
    if (schemes.has(scheme))
      throw new FileError(file, `line ${line}: the scheme "${scheme}" is there already`);
    schemes.set(scheme, {
      scheme,
      attribute: oneOf(cell(row, "attribute"), ATTRIBUTES, file, line),
      level: cell(row, "level"),
      min: optionalNumber(cell(row, "min"), file, line),
      max: optionalNumber(cell(row, "max"), file, line),
      direction: oneOf(cell(row, "direction"), DIRECTIONS, file, line),
      region: cell(row, "region"),
      sourceId: cell(row, "source_id"),
      note: cell(row, "note"),
      file: `attributes/${cell(row, "file")}`,
    });
  }
  return schemes;
}

/** The values of one scheme by taxon. */
export function readValues(files: SharedFiles, path: string): Map<string, AttributeValue> {
  const file = files.pathOf(path);
  const { rows, cell } = files.table(path, ["taxon", "value", "source_id", "verified"]);
  const values = new Map<string, AttributeValue>();
  for (const row of rows) {
    const taxon = cell(row, "taxon");
    if (values.has(taxon)) throw new FileError(file, `line ${row.line}: ${taxon} has a value already`);
    const verified = oneOf(cell(row, "verified"), ["seen", "memory"], file, row.line);
    values.set(taxon, { text: cell(row, "value"), sourceId: cell(row, "source_id"), verified });
  }
  return values;
}

/** By scheme, the taxa that it treats as another one. */
export function readScoreAs(files: SharedFiles): Map<string, Map<string, string>> {
  const { rows, cell } = files.table(SCORE_AS_FILE, ["scheme", "taxon", "score_as"]);
  const byScheme = new Map<string, Map<string, string>>();
  for (const row of rows) {
    const scheme = cell(row, "scheme");
    const pairs = byScheme.get(scheme) ?? new Map<string, string>();
    byScheme.set(scheme, pairs.set(cell(row, "taxon"), cell(row, "score_as")));
  }
  return byScheme;
}
