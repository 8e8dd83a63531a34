/**
 * What a second person found in the residues of ten samples. V2-2023-05 is under 90 percent, so a second share
 * of BEX's part of lot 2023-1 is due; of two samples only a part of the residue was looked through.
 */
export const SORTING_CHECKS = [
  { sample_id: "U1-2023-06", recovered_count: 11, fraction_checked: 1, sorter: "KMO" },
  { sample_id: "L1-2023-05", recovered_count: 19, fraction_checked: 1, sorter: "KMO" },
  {
    sample_id: "V2-2023-05",
    recovered_count: 47,
    fraction_checked: 1,
    sorter: "BEX",
    note: "many small midges in the moss",
  },
  {
    sample_id: "U3-2023-09",
    recovered_count: 6,
    fraction_checked: 0.25,
    sorter: "KMO",
    note: "a quarter of the residue",
  },
  { sample_id: "L4-2023-09", recovered_count: 20, fraction_checked: 1, sorter: "KMO" },
  { sample_id: "V1-2023-09", recovered_count: 17, fraction_checked: 0.5, sorter: "BEX" },
  { sample_id: "V3-2023-09-D", recovered_count: 9, fraction_checked: 1, sorter: "BEX" },
  { sample_id: "U2-2024-09", recovered_count: 0, fraction_checked: 1, sorter: "KMO" },
  { sample_id: "L3-2024-09", recovered_count: 14, fraction_checked: 1, sorter: "KMO" },
  { sample_id: "V4-2024-09", recovered_count: 22, fraction_checked: 1, sorter: "BEX" },
];

const REMAINS = new Set(["exuviae", "case", "shell"]);

/**
 * Animals that the sorter picked out of the grids: no remains, nothing put back, no large/rare finds.
 *
 * @param {readonly Record<string, string>[]} bench
 * @param {string} sampleId
 */
export function sortedCount(bench, sampleId) {
  let sum = 0;
  for (const row of bench) {
    const isPicked =
      !REMAINS.has(row.life_stage) && row.disposition !== "released" && row.part !== "large-rare";
    if (row.sample_id === sampleId && isPicked) sum += Number(row.count);
  }
  if (sum === 0) throw new Error(`no animals of ${sampleId} on the bench sheet`);
  return sum;
}
