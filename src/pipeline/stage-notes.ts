import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { at } from "../model/at.ts";
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
  /** By name and stage: the group of which no animal has the stage. */
  const oddGroups = new Map<number, string>();
  table.namesByStage().forEach((isMet, slot) => {
    if (isMet === 0) return;
    const taxon = names.taxa[Math.floor(slot / stages)] as number;
    const group = oddOf(taxon, at(LIFE_STAGES, slot % stages));
    if (group !== undefined) oddGroups.set(slot, group);
  });
  // Nearly always there is none.
  if (oddGroups.size === 0) return;
  const found = new Map<string, OddRows>();
  for (let row = 0; row < table.size; row++) {
    const group = oddGroups.get(table.nameAndStageAt(row));
    if (group === undefined) continue;
    const stage = table.stageAt(row);
    const key = `${group} ${stage}`;
    const odd = found.get(key) ?? { group, stage, firstRow: row, rows: 0, names: new Set() };
    odd.rows++;
    odd.names.add(table.nameAt(row));
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
