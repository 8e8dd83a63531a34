import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { RowTable } from "../model/rows.ts";

/**
 * Points out names that stand twice in a sample with the same life stage although nothing (jar, grid, tray,
 * vial, part, disposition) tells the rows apart: their counts are summed, and one of them may be a slip.
 *
 * @param except samples that are refused already because all their rows came in twice
 */
export function reportRepeatedTaxa(
  table: RowTable,
  except: ReadonlySet<string>,
  findings: FindingSink,
): void {
  const { order, starts } = table.bySample();
  const stages = LIFE_STAGES.length;
  const kinds = table.namesAndStagesBySample();
  // Where the sample met a name and stage last; cleared by the number of the sample, not by writing zeros.
  const metBy = new Int32Array(table.names.size * stages).fill(-1);
  const metAt = new Int32Array(table.names.size * stages);
  for (let sample = 0; sample < table.samples.size; sample++) {
    if (except.size > 0 && except.has(table.samples.textOf(sample))) continue;
    const end = starts[sample + 1] as number;
    let told: Set<number> | undefined;
    for (let at = starts[sample] as number; at < end; at++) {
      const slot = kinds[at] as number;
      if (metBy[slot] !== sample) {
        metBy[slot] = sample;
        metAt[slot] = at;
        continue;
      }
      const earlier = order[metAt[slot] as number] as number;
      const row = order[at] as number;
      if (told?.has(slot) || !isSameKind(table, earlier, row)) continue;
      told ??= new Set();
      told.add(slot);
      report(table, sample, earlier, row, findings);
    }
  }
}

function isSameKind(table: RowTable, a: number, b: number): boolean {
  if (table.flagsAt(a) !== table.flagsAt(b)) return false;
  const one = table.rareAt(a);
  const other = table.rareAt(b);
  return (
    one?.container === other?.container &&
    one?.grid === other?.grid &&
    one?.trayLevel === other?.trayLevel &&
    one?.slideOrVial === other?.slideOrVial &&
    one?.condition === other?.condition &&
    one?.numberOfTaxa === other?.numberOfTaxa
  );
}

function report(table: RowTable, sample: number, earlier: number, row: number, findings: FindingSink): void {
  const file = table.fileAt(row);
  const before = table.fileAt(earlier);
  const where = before === file ? `line ${table.lineAt(earlier)}` : `${before}:${table.lineAt(earlier)}`;
  const name = quoted(table.names.textOf(table.nameAt(row)));
  const place = { file, line: table.lineAt(row), column: table.nameColumnAt(row) };
  const message = `${name} stands in ${where} already; the counts are summed`;
  const sampleId = table.samples.textOf(sample);
  findings.add(finding("repeated-taxon", place, { message, sampleId }));
}
