import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { RowTable } from "../model/rows.ts";
import { oddStages } from "../names/odd-stages.ts";
import type { BatchNames } from "./batch-names.ts";

/** Rows whose stage their animals never have, of one group and stage. */
interface OddRows {
  readonly group: string;
  readonly stage: string;
  readonly firstRow: number;
  rows: number;
  readonly names: Set<number>;
}

/**
 * Says once for each group of animals and stage that animals of it never have that stage: a slip of the line or
 * of the column. The animals count all the same.
 */
export function reportOddStages(table: RowTable, names: BatchNames, findings: FindingSink): void {
  const oddOf = oddStages(names.tree);
  const stages = LIFE_STAGES.length;
  /** By name and stage: not looked at yet (0), in order (1), odd (2). */
  const known = new Uint8Array(table.names.size * stages);
  const found = new Map<string, OddRows>();
  for (let row = 0; row < table.size; row++) {
    const name = table.nameAt(row);
    const slot = name * stages + table.stageNumberAt(row);
    if (known[slot] === 1) continue;
    const stage = table.stageAt(row);
    const group = oddOf(names.taxa[name] as number, stage);
    known[slot] = group === undefined ? 1 : 2;
    if (group === undefined) continue;
    const key = `${group} ${stage}`;
    const odd = found.get(key) ?? { group, stage, firstRow: row, rows: 0, names: new Set() };
    odd.rows++;
    odd.names.add(name);
    found.set(key, odd);
  }
  for (const { group, stage, firstRow, rows, names: of } of found.values()) {
    const first = table.names.textOf(table.nameAt(firstRow));
    const more = of.size > 1 ? ` and ${of.size - 1} more name${of.size === 2 ? "" : "s"}` : "";
    const where = rows > 1 ? ` (${rows} rows)` : "";
    const young = stage === "larva" ? "; immature and juvenile are read as larva too" : "";
    findings.add(
      finding(
        "odd-stage",
        { file: table.fileAt(firstRow), line: table.lineAt(firstRow), column: table.nameColumnAt(firstRow) },
        { message: `"${first}"${more} stands as ${stage}, which ${group} never are${young}${where}` },
      ),
    );
  }
}
