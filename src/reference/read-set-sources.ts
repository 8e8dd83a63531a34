import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import type { SetFile } from "./folder.ts";
import { readSetTable } from "./set-table.ts";
import type { Source } from "./shared-sources.ts";
import { SOURCE_COLUMNS } from "./shared-sources.ts";

/** Reads a set's own sources.csv, which has the columns of the shared one. */
export async function readSetSources(file: SetFile, findings: FindingSink): Promise<Map<string, Source>> {
  const table = await readSetTable(
    file,
    { required: ["source_id", "citation"], optional: SOURCE_COLUMNS.slice(2) },
    findings,
  );
  const sources = new Map<string, Source>();
  for (const row of table.rows) {
    const id = row.text("source_id");
    if (id === "" || sources.has(id)) {
      const message = id === "" ? "a source_id is missing" : `"${id}" is there twice`;
      findings.add(finding("bad-set", row.place("source_id"), { message }));
      continue;
    }
    sources.set(id, {
      id,
      citation: row.text("citation"),
      year: row.text("year"),
      url: row.text("url"),
      licence: row.text("licence_or_status"),
      howSeen: row.text("how_seen"),
    });
  }
  return sources;
}
