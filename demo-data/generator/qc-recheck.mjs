/**
 * Five samples that ORN named a second time. `changes` says how many animals move from one name on the first
 * sheet to another on the second; `to` left out means that they were not found again.
 */
export const RECHECKS = [
  {
    sample_id: "U1-2023-06",
    on: "2023-08-14",
    changes: [
      { from: "Heptageniidae", to: "Cinygmula", count: 5 },
      { from: "Heptageniidae", to: "Epeorus", count: 3 },
      { from: "Drunella", to: "Ephemerella", count: 2 },
      { from: "Micropsectra", to: "Tanytarsus", count: 1 },
    ],
  },
  {
    sample_id: "V4-2023-05",
    on: "2023-08-16",
    changes: [
      { from: "Heptageniidae", to: "Epeorus", count: 6 },
      { from: "Heptageniidae", to: "Cinygmula", count: 3 },
      { from: "Perlidae", to: "Calineuria", count: 4 },
      { from: "Hydropsyche", to: "Cheumatopsyche", count: 7 },
      { from: "Micropsectra", to: "Rheotanytarsus", count: 6 },
      { from: "Parametriocnemus", to: "Eukiefferiella", count: 5 },
    ],
  },
  { sample_id: "U3-2023-09", on: "2023-12-04", changes: [{ from: "Epeorus", to: "Rhithrogena", count: 1 }] },
  {
    sample_id: "L2-2023-09",
    on: "2023-12-06",
    changes: [
      { from: "Tubifex", to: "Limnodrilus", count: 8 },
      { from: "Cricotopus", to: "Orthocladius", count: 4 },
      { from: "Caenis", count: 2 },
    ],
  },
  {
    sample_id: "L1-2024-09",
    on: "2024-11-20",
    changes: [
      { from: "Rheotanytarsus", count: 19 },
      { from: "Micropsectra", count: 18 },
      { from: "Orthocladius", count: 15 },
    ],
  },
];

const REMAINS = new Set(["exuviae", "case", "shell"]);

/**
 * The second sheet of one sample: what was kept in vials, with the changes made, in the order of the first.
 *
 * @param {readonly Record<string, string>[]} bench
 * @param {{sample_id: string, on: string, changes: readonly {from: string, to?: string, count: number}[]}} recheck
 */
export function recheckRows(bench, recheck) {
  const rows = bench
    .filter((row) => row.sample_id === recheck.sample_id)
    .filter((row) => !REMAINS.has(row.life_stage) && row.disposition !== "released")
    .map((row) => ({ taxon: row.taxon, life_stage: row.life_stage, count: Number(row.count) }));
  for (const { from, to, count } of recheck.changes) {
    const left = rows.find((row) => row.taxon === from);
    if (left === undefined || left.count < count)
      throw new Error(`${recheck.sample_id} has no ${count} ${from}`);
    left.count -= count;
    if (to === undefined) continue;
    const right = rows.find((row) => row.taxon === to && row.life_stage === left.life_stage);
    if (right === undefined) rows.push({ taxon: to, life_stage: left.life_stage, count });
    else right.count += count;
  }
  return rows
    .filter(({ count }) => count > 0)
    .map((row) => ({
      sample_id: recheck.sample_id,
      ...row,
      identified_by: "ORN",
      identified_on: recheck.on,
    }));
}
