import { writeFile } from "node:fs/promises";
import { isAbsolute, join, relative, resolve } from "node:path";
import { delimitedText } from "../files/formats/delimited-text.ts";
import { writeFolderWhole } from "../files/safe-write.ts";
import { LOG_COLUMNS } from "../model/sample-facts.ts";
import { packageTables } from "../pipeline/package-tables.ts";
import { findSetFolder } from "../reference/find-set.ts";
import { ALERT_COLUMNS } from "../sheets/alerts-list.ts";
import { FACT_COLUMN_NAMES } from "../sheets/row-facts.ts";
import { UsageError } from "./define.ts";
import { labGuide } from "./lab-guide.ts";
import { SETTINGS_FILE } from "./settings.ts";

/** The empty sheets of a lab folder: name and headers. */
export const LAB_SHEETS: readonly (readonly [string, readonly string[]])[] = [
  ["sample-log.csv", LOG_COLUMNS],
  ["bench-sheet.csv", ["sample_id", "taxon", "count", ...FACT_COLUMN_NAMES]],
  ["pick-log.csv", ["sample_id", "level", "grid", "picked", "portion", "sorter"]],
  ["sorting-check.csv", ["sample_id", "sorted_count", "recovered_count", "fraction_checked", "sorter"]],
  ["amendment.csv", ["sample_id", "taxon", "old_count", "new_count", "reason", "by", "on"]],
  ["names.csv", ["sheet_name", "accepted_name", "note"]],
  ["alerts.csv", ALERT_COLUMNS],
];

/**
 * Makes a lab folder.
 *
 * @param reference id of a set or path to a set folder, for the settings
 * @returns what was done and what to do next, in words
 * @throws FileError when the folder exists or cannot be written; UnknownSetError when there is no such set
 */
export async function startLab(dir: string, reference: string | undefined, cwd: string): Promise<string> {
  if (dir === "") throw new UsageError("name the folder to make");
  const folder = resolve(cwd, dir);
  const set = reference === undefined ? undefined : await setFrom(folder, reference, cwd);
  await writeFolderWhole(
    folder,
    async (place) => {
      for (const [name, columns] of LAB_SHEETS)
        await writeFile(join(place, name), delimitedText([columns], ","));
      await writeFile(join(place, SETTINGS_FILE), settingsText(set));
      await writeFile(join(place, "README.md"), labGuide(set));
    },
    { shownAs: dir },
  );
  return `${LAB_SHEETS.length} empty sheets, ${SETTINGS_FILE} and README.md written to ${dir}; next: read ${join(dir, "README.md")}`;
}

/** The set as the settings name it: an id as it is, a path as seen from the new folder. */
async function setFrom(folder: string, reference: string, cwd: string): Promise<string> {
  await findSetFolder(reference, { packageTables: packageTables(), cwd });
  const isPath = reference.includes("/") || reference.includes("\\");
  if (!isPath || isAbsolute(reference)) return reference;
  const path = relative(folder, resolve(cwd, reference));
  return path.startsWith(".") ? path : `./${path}`;
}

function settingsText(set: string | undefined): string {
  const settings = {
    samples: "sample-log.csv",
    names: "names.csv",
    alerts: "alerts.csv",
    ...(set === undefined ? {} : { reference: set }),
  };
  return `${JSON.stringify(settings, undefined, 2)}\n`;
}
