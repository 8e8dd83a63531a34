import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import { tableFormat } from "../files/formats/table.ts";
import { writeRows } from "../files/formats/write-rows.ts";

const INDENT = "  ";

/**
 * Aligned columns as text, every line indented by two spaces. Nothing is cut, an explanation has to be whole: where
 * a width is given, texts are wrapped within their columns.
 */
export async function textTable(
  columns: readonly OutputColumn[],
  rows: readonly OutputRow[],
  width?: number,
): Promise<string> {
  let text = "";
  const sink = {
    write: async (piece: string) => {
      text += piece;
    },
  };
  const look = width === undefined ? {} : { width: width - INDENT.length };
  const writer = tableFormat.create(sink, columns, { schema: "", inputs: [] }, look);
  await writer.start();
  await writeRows(writer, rows);
  await writer.end();
  return text.replace(/^(?=.)/gmu, INDENT).replace(/(?<! ) +$/gmu, "");
}
