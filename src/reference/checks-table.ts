import { at } from "../model/at.ts";
import type { SetDefinition } from "../model/reference-set.ts";

const HOW = {
  reproduced: "published answers reproduce",
  seen: "read in a document",
  memory: "**from memory**",
  own: "our own decision",
  invented: "invented",
} as const;

/**
 * What was checked how, set by set and part by part, as a Markdown table: the page of the reference tables has it,
 * and the tests hold the page against the sets.
 */
export function checksTable(definitions: readonly SetDefinition[]): string {
  const rows = definitions.flatMap((set) =>
    set.checks.map(({ part, how, note }, at) => [
      at === 0 ? `\`${set.id}\` ${set.version}` : "",
      at === 0 ? set.verification : "",
      HOW[how],
      note === undefined ? part : `${part} (${note})`,
    ]),
  );
  return markdownTable(["set", "as a whole", "how", "part"], rows);
}

/** A Markdown table with its columns aligned but the last, so that it reads as text too. */
function markdownTable(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const cells = [header, ...rows].map((row) => row.map((cell) => cell.replaceAll("|", "\\|")));
  const last = header.length - 1;
  const widths = header.map((name, column) =>
    column === last ? name.length : Math.max(...cells.map((row) => at(row, column).length)),
  );
  const line = (row: readonly string[]) =>
    `| ${widths.map((width, column) => at(row, column).padEnd(width)).join(" | ")} |`;
  const [head = [], ...body] = cells;
  return [line(head), `| ${widths.map((width) => "-".repeat(width)).join(" | ")} |`, ...body.map(line)].join(
    "\n",
  );
}
