import { FileError } from "../../files/file-error.ts";
import type { Attribute } from "../../model/attributes.ts";
import type { SetFolder } from "../../reference/folder.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import { SharedFiles } from "../../reference/shared-files.ts";
import type { SharedTables } from "../../reference/shared-tables.ts";

/** Where the attribute values of a side stand. */
export interface AttributeSource {
  readonly setFolder: SetFolder;
  /** The folder of the shared tables, and how messages name it. */
  readonly tables: string;
  readonly tablesShownAs: string;
  readonly shared: SharedTables;
  /** Of the set, which attributes have a table of the user's in place of its own. */
  readonly set: Pick<ReferenceSet, "standIns">;
}

/**
 * The row that gives a taxon its value: in the set's own taxa.csv, which wins, else in the shared table of the
 * scheme. A table that the user gave in place of the set's own has no row in either: the scheme and the taxon.
 */
export function attributePlace(
  source: AttributeSource,
  attribute: Attribute,
  scheme: string,
  taxon: string,
): string {
  if (taxon === "") return scheme;
  const isGiven = source.set.standIns.some((one) => one.attribute === attribute);
  const own = isGiven ? undefined : lineIn(source.setFolder.path, "taxa.csv", { taxon, attribute });
  if (own !== undefined) return `${source.setFolder.shownAs}/taxa.csv:${own}`;
  const path = source.shared.fileOf(scheme);
  const line = path === undefined ? undefined : lineIn(source.tables, path, { taxon });
  return line === undefined ? `${scheme}: ${taxon}` : `${source.tablesShownAs}/${path}:${line}`;
}

/** The line of the first row whose cells are as wanted; undefined when the table cannot be read so. */
function lineIn(folder: string, path: string, wanted: Readonly<Record<string, string>>): number | undefined {
  const columns = Object.keys(wanted);
  try {
    const { rows, cell } = new SharedFiles(folder).table(path, columns);
    return rows.find((row) => columns.every((column) => cell(row, column).trim() === wanted[column]))?.line;
  } catch (error) {
    if (error instanceof FileError) return undefined;
    throw error;
  }
}
