import type { Place } from "../findings/finding.ts";
import { compareCodePoints } from "../model/order.ts";
import type { RowTable } from "../model/rows.ts";
import type { CellFault } from "./count.ts";

/** A fault of one sample that shows only when all rows are together. */
export interface SampleFault {
  readonly sampleId: string;
  readonly place: Place;
  readonly fault: CellFault;
}

/**
 * Finds samples whose rows came in twice from two files: the same sheet given twice, or once as CSV and once as
 * a workbook. Their sum would double every count. A single row that two files share is taken for a repeat only
 * when it is so for every sample of one of the files, since two jars may well hold one same animal each.
 */
export function findRepeatedSheets(table: RowTable): SampleFault[] {
  if (table.files.length < 2) return [];
  const { order, starts } = table.bySample();
  const twins: Twin[] = [];
  const samplesOfFile = new Map<number, number>();
  for (let sample = 0; sample < table.samples.size; sample++) {
    const rows = order.subarray(starts[sample] ?? 0, starts[sample + 1] ?? 0);
    const byFile = groupByFile(table, rows);
    for (const file of byFile.keys()) samplesOfFile.set(file, (samplesOfFile.get(file) ?? 0) + 1);
    if (byFile.size < 2) continue;
    const seen = new Map<string, { file: number; row: number }>();
    for (const [file, own] of byFile) {
      const content = own
        .map((row) => contentOf(table, row))
        .sort(compareCodePoints)
        .join("\n");
      const [row = 0] = own;
      const earlier = seen.get(content);
      if (earlier === undefined) seen.set(content, { file, row });
      else twins.push({ sample, rows: own.length, earlier, file, row });
    }
  }
  const shared = new Map<string, number>();
  for (const twin of twins) shared.set(pairOf(twin), (shared.get(pairOf(twin)) ?? 0) + 1);
  const isWholeFile = (twin: Twin) => {
    const samples = shared.get(pairOf(twin));
    return samples === samplesOfFile.get(twin.file) || samples === samplesOfFile.get(twin.earlier.file);
  };
  return twins.filter((twin) => twin.rows > 1 || isWholeFile(twin)).map((twin) => faultOf(table, twin));
}

function pairOf({ file, earlier }: Twin): string {
  return `${earlier.file} ${file}`;
}

interface Twin {
  readonly sample: number;
  readonly rows: number;
  readonly earlier: { readonly file: number; readonly row: number };
  readonly file: number;
  readonly row: number;
}

function groupByFile(table: RowTable, rows: Uint32Array): Map<number, number[]> {
  const groups = new Map<number, number[]>();
  for (const row of rows) {
    // A count of 0 stands in a long sheet and not in a cross-tab of the same data.
    if (table.countAt(row) === 0) continue;
    const file = table.fileNumberAt(row);
    const own = groups.get(file);
    if (own === undefined) groups.set(file, [row]);
    else own.push(row);
  }
  return groups;
}

/** What a row says; another jar or grid makes it another row. */
function contentOf(table: RowTable, row: number): string {
  const rare = table.rareAt(row);
  return JSON.stringify([
    table.nameAt(row),
    table.countAt(row),
    table.stageAt(row),
    table.flagsAt(row),
    rare?.container,
    rare?.grid,
    rare?.trayLevel,
    rare?.slideOrVial,
  ]);
}

function faultOf(table: RowTable, { sample, rows, earlier, row }: Twin): SampleFault {
  const place = { file: table.fileAt(row), line: table.lineAt(row), column: table.columnAt(row) };
  const what = rows === 1 ? "the row of this sample is" : `the ${rows} rows of this sample are`;
  return {
    sampleId: table.samples.textOf(sample),
    place,
    fault: {
      code: "repeated-sheet",
      message: `${what} the same as in ${table.fileAt(earlier.row)} from line ${table.lineAt(earlier.row)}`,
    },
  };
}
