import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { stringify } from "csv-stringify/sync";
import * as z from "zod";
import type { AttributeTable } from "../model/attributes.ts";
import type { SetDefinitionInput } from "../model/reference-set.ts";
import { setDefinitionSchema } from "../model/reference-set.ts";
import type { SetFolder } from "./folder.ts";
import { readOptionalSetFile, readSetFile } from "./folder.ts";
import type { ReadSet } from "./read-set.ts";
import { SET_TAXA_COLUMNS } from "./read-set-taxa.ts";
import { SOURCE_COLUMNS } from "./shared-sources.ts";
import type { SharedTables } from "./shared-tables.ts";

const SCHEMA_FILE = "set.schema.json";

/**
 * Writes a copy of a set that stands alone: every attribute value it uses is in its taxa.csv and every source in
 * its sources.csv, and the JSON Schema of set.json lies beside it for editors.
 *
 * @param id the id of the copy
 * @param target an empty folder
 */
export async function writeSetCopy(
  read: ReadSet,
  from: SetFolder,
  id: string,
  shared: SharedTables,
  target: string,
): Promise<void> {
  const { set } = read;
  const write = (name: string, content: string | Uint8Array) => writeFile(join(target, name), content);
  await write("set.json", `${JSON.stringify(copiedDefinition(read, id), undefined, 2)}\n`);
  await write("thresholds.csv", (await readSetFile(from, "thresholds.csv")).bytes);
  const isGroups = set.definition.naming === "groups";
  const taxa = await readOptionalSetFile(from, "taxa.csv");
  if (isGroups && taxa !== undefined) await write("taxa.csv", taxa.bytes);
  else if (set.attributes.size > 0) await write("taxa.csv", csv(SET_TAXA_COLUMNS, taxaRows(read)));
  await write("sources.csv", csv(SOURCE_COLUMNS, sourceRows(read, shared)));
  await write(SCHEMA_FILE, `${JSON.stringify(setSchema(), undefined, 2)}\n`);
  await write("README.md", guide(id, set.definition.id));
}

/** The JSON Schema of set.json, for editors that complete and check what is typed. */
export function setSchema(): unknown {
  return z.toJSONSchema(setDefinitionSchema, { io: "input" });
}

function copiedDefinition({ set, definition: { written } }: ReadSet, id: string): SetDefinitionInput {
  const { $schema: _, id: original, title, version, attributes = {}, ...rest } = written;
  const own: SetDefinitionInput["attributes"] = {};
  for (const [attribute, table] of set.attributes) own[attribute] = ownChoice(table);
  return {
    $schema: `./${SCHEMA_FILE}`,
    id,
    title: `${title} (copy)`,
    version: "0.1.0",
    ...rest,
    based_on: { id: original, version, hash: set.hash },
    attributes: { ...attributes, ...own },
  };
}

function ownChoice({ scheme }: AttributeTable) {
  const { scheme: list, level, min, max, direction, region, sourceId } = scheme;
  return {
    own: true as const,
    list,
    level,
    ...(min === undefined ? {} : { min }),
    ...(max === undefined ? {} : { max }),
    direction,
    region,
    ...(sourceId === "" ? {} : { source: sourceId }),
  };
}

function taxaRows({ set }: ReadSet): string[][] {
  return [...set.attributes].flatMap(([attribute, table]) => [
    ...[...table.values].map(([taxon, { text, sourceId, verified }]) => [
      taxon,
      attribute,
      text,
      sourceId,
      verified === "set" ? "" : verified,
      "",
    ]),
    ...[...table.scoreAs].map(([taxon, target]) => [taxon, `score_as:${attribute}`, target, "", "", ""]),
  ]);
}

/** The sources that the set and its values name, in the order in which they are met. */
function sourceRows({ set }: ReadSet, shared: SharedTables): string[][] {
  const ids = new Set(set.definition.sources);
  for (const { scheme, values } of set.attributes.values()) {
    if (scheme.sourceId !== "") ids.add(scheme.sourceId);
    for (const { sourceId } of values.values()) if (sourceId !== "") ids.add(sourceId);
  }
  return [...ids].flatMap((id) => {
    const source = set.ownSources.get(id) ?? shared.sources.get(id);
    if (source === undefined) return [];
    const { citation, year, url, licence, howSeen } = source;
    return [[id, citation, year, url, licence, howSeen]];
  });
}

function csv(columns: readonly string[], rows: readonly (readonly string[])[]): string {
  return stringify([columns, ...rows].map((row) => [...row]));
}

function guide(id: string, original: string): string {
  return `# ${id}

A reference set copied from \`${original}\`. It stands alone: nothing but the shared tree of taxa is read beside it.

| file | holds |
| --- | --- |
| \`set.json\` | what it is, count rule, level, metrics, index, rating classes; \`${SCHEMA_FILE}\` tells editors what may stand there |
| \`thresholds.csv\` | one row for each segment of a scoring rule |
| \`taxa.csv\` | the attribute values of taxa |
| \`sources.csv\` | the citations |

1. Say in \`set.json\` what it is for: title, \`calibrated_for\`, region, season, gear. Set \`verification\` and \`checks\`
   to what holds after your changes: those here are the original's.
2. Change limits in \`thresholds.csv\`. Each limit says whether it belongs to its segment.
3. \`jartally reference check ${id}\` finds gaps, overlaps, unknown names and what is missing.
4. \`jartally reference compare ${original} ${id}\` shows what you changed.
5. Raise \`version\` with every change that moves a score.

A score is no legal determination unless the responsible agency's method was followed by qualified people.
`;
}
