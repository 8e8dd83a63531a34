import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import { tableFormat } from "../files/formats/table.ts";

/** Aligned columns as text, every line indented by two spaces. Nothing is cut: an explanation has to be whole. */
export async function textTable(
  columns: readonly OutputColumn[],
  rows: readonly OutputRow[],
): Promise<string> {
  let text = "";
  const sink = {
    write: async (piece: string) => {
      text += piece;
    },
  };
  const writer = tableFormat.create(sink, columns, { schema: "", inputs: [] });
  await writer.start();
  for (const row of rows) await writer.row(row);
  await writer.end();
  return text.replace(/^(?=.)/gmu, "  ").replace(/(?<! ) +$/gmu, "");
}
