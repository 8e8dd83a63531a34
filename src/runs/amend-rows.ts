import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { RowInput } from "../model/rows.ts";
import { RowTable } from "../model/rows.ts";
import { normaliseName } from "../names/normalise.ts";
import type { Amendment } from "../sheets/amendment.ts";

/** Rows with corrections made; the rows they came from are left as they are. */
export interface AmendedRows {
  readonly table: RowTable;
  /** What does not fit: a sample that is not there, an old count that the rows do not have. */
  readonly findings: readonly Finding[];
}

/**
 * Makes corrections in a copy of the rows, one after the other. A correction speaks of all rows of a sample under
 * one name (in any spelling that normalises alike): more animals come in as a row of their own, which stands where
 * the correction stands and has the stage of the first of those rows; fewer are taken from the last of them.
 */
export function amendRows(original: RowTable, amendments: readonly Amendment[]): AmendedRows {
  if (amendments.length === 0) return { table: original, findings: [] };
  const findings: Finding[] = [];
  const counts = new Map<number, number>();
  const added: (RowInput & { readonly file: string })[] = [];
  const bySample = original.bySample();
  const key = (sampleId: string, name: string) => JSON.stringify([sampleId, normaliseName(name)]);
  for (const amendment of amendments) {
    const { sampleId, taxon, oldCount, newCount, place } = amendment;
    const refuse = (message: string) =>
      findings.push(finding("amendment-does-not-fit", place, { message, sampleId }));
    const sample = original.samples.numberOf(sampleId);
    if (sample === undefined) {
      refuse(`the run has no sample ${sampleId}`);
      continue;
    }
    const wanted = normaliseName(taxon);
    const own = bySample.order.subarray(
      bySample.starts[sample] as number,
      bySample.starts[sample + 1] as number,
    );
    const rows = [...own].filter(
      (row) => normaliseName(original.names.textOf(original.nameAt(row))) === wanted,
    );
    const earlier = added.filter((row) => key(row.sampleId, row.name) === key(sampleId, taxon));
    const countAt = (row: number) => counts.get(row) ?? original.countAt(row);
    const now =
      rows.reduce((sum, row) => sum + countAt(row), 0) + earlier.reduce((sum, row) => sum + row.count, 0);
    if (now !== oldCount) {
      refuse(`sample ${sampleId} has ${now} ${taxon}, not ${oldCount}`);
      continue;
    }
    if (newCount > now) {
      const [first] = rows;
      added.push({
        sampleId,
        name: first === undefined ? taxon : original.names.textOf(original.nameAt(first)),
        count: newCount - now,
        stage: first === undefined ? "unknown" : original.stageAt(first),
        flags: first === undefined ? 0 : original.flagsAt(first),
        line: place.line,
        column: place.column,
        file: place.file,
      });
      continue;
    }
    let surplus = now - newCount;
    for (const row of [...earlier].reverse()) {
      const taken = Math.min(surplus, row.count);
      surplus -= taken;
      added[added.indexOf(row)] = { ...row, count: row.count - taken };
    }
    for (const row of rows.reverse()) {
      const taken = Math.min(surplus, countAt(row));
      surplus -= taken;
      if (taken > 0) counts.set(row, countAt(row) - taken);
    }
  }
  return { table: copyRows(original, counts, added), findings };
}

function copyRows(
  original: RowTable,
  counts: ReadonlyMap<number, number>,
  added: readonly (RowInput & { readonly file: string })[],
): RowTable {
  const table = new RowTable();
  const nameFields = new Map<number, number>();
  for (let row = 0; row < original.size; row++)
    nameFields.set(original.fileNumberAt(row), original.nameColumnAt(row));
  original.files.forEach((file, number) => {
    table.startFile(file);
    table.setNameColumn(nameFields.get(number) ?? 0);
  });
  for (const id of original.samples.texts) table.samples.add(id);
  for (let row = 0; row < original.size; row++) {
    table.continueFile(original.fileNumberAt(row));
    table.add({
      sampleId: original.samples.textOf(original.sampleAt(row)),
      name: original.names.textOf(original.nameAt(row)),
      count: counts.get(row) ?? original.countAt(row),
      stage: original.stageAt(row),
      flags: original.flagsAt(row),
      line: original.lineAt(row),
      column: original.columnAt(row),
      rare: original.rareAt(row),
    });
  }
  const files = new Map<string, number>();
  for (const { file, ...row } of added) {
    if (row.count === 0) continue;
    const number = files.get(file);
    if (number === undefined) {
      files.set(file, table.files.length);
      table.startFile(file);
      // The name stands in the taxon column of the corrections, which they need not say which it is.
      table.setNameColumn(0);
    } else table.continueFile(number);
    table.add(row);
  }
  return table;
}
