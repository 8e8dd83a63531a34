import { quoted } from "../files/visible-text.ts";
import type { RowTable } from "../model/rows.ts";
import type { SampleFault } from "./repeated-rows.ts";

const PLAIN = /^[A-Z0-9]+$/;

/**
 * Finds sample ids that differ only in case, blanks, hyphens, underscores and dots ("VN-03", "vn 03"): most likely
 * one sample whose rows would be scored as two.
 */
export function findLookAlikeSamples(table: RowTable): SampleFault[] {
  // Capitals and digits alone: no two of them are alike.
  if (table.samples.texts.every((sampleId) => PLAIN.test(sampleId))) return [];
  const seen = new Map<string, string>();
  const pairs: [string, string][] = [];
  for (const sampleId of table.samples.texts) {
    const key = sampleId.toLowerCase().replace(/[\s._\u2010-\u2015-]+/g, "");
    const earlier = seen.get(key);
    if (earlier === undefined) seen.set(key, sampleId);
    else pairs.push([sampleId, earlier]);
  }
  if (pairs.length === 0) return [];
  const first = firstRows(table);
  return pairs.map(([sampleId, earlier]) => {
    const row = first.get(sampleId);
    const file = row === undefined ? (table.files[0] ?? "") : table.fileAt(row);
    const line = row === undefined ? 0 : table.lineAt(row);
    return {
      sampleId,
      place: { file, line, column: 0 },
      fault: {
        code: "look-alike-samples",
        message: `the sample ids ${quoted(sampleId)} and ${quoted(earlier)} may be one sample`,
      },
    };
  });
}

/** The first row of each sample; only asked for when there is something to report. */
function firstRows(table: RowTable): Map<string, number> {
  const first = new Map<string, number>();
  for (let row = table.size - 1; row >= 0; row--) first.set(table.samples.textOf(table.sampleAt(row)), row);
  return first;
}
