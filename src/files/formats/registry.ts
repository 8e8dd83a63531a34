import { csvFormat } from "./csv.ts";
import type { OutputFormat } from "./define.ts";
import { jsonFormat } from "./json.ts";
import { ndjsonFormat } from "./ndjson.ts";
import { tableFormat } from "./table.ts";
import { tsvFormat } from "./tsv.ts";

/** Every format of output. A new one is a file and a line here. */
export const OUTPUT_FORMATS = [csvFormat, tsvFormat, jsonFormat, ndjsonFormat, tableFormat] as const;

export type FormatId = (typeof OUTPUT_FORMATS)[number]["id"];

/**
 * The format of an id.
 *
 * @throws RangeError when there is none; the command line offers only ids that exist
 */
export function findFormat(id: string): OutputFormat {
  const format = OUTPUT_FORMATS.find((one) => one.id === id);
  if (format === undefined) throw new RangeError(`no format has the id ${id}`);
  return format;
}

/** The id of the format that the extension of a path means, or undefined when it means none. */
export function formatOfExtension(path: string): FormatId | undefined {
  const lower = path.toLowerCase();
  return OUTPUT_FORMATS.find((one) => one.extensions.some((extension) => lower.endsWith(extension)))?.id;
}
