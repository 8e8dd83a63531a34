import { inventSample } from "./samples.mjs";
import { ROUNDS, SITES } from "./sites.mjs";

/**
 * Puts into a batch what real batches bring; README.md of this folder lists each trouble by sample.
 *
 * @param {number} seed
 * @param {{id: string, log: Record<string, string|number>, rows: Record<string, string|number>[]}[]} samples
 *   changed in place
 * @returns {typeof samples} the same samples, with the field duplicate behind its primary
 */
export function addTroubles(seed, samples) {
  const byId = new Map(samples.map((sample) => [sample.id, sample]));
  const sample = (id) => {
    const found = byId.get(id);
    if (found === undefined) throw new Error(`no sample ${id}`);
    return found;
  };
  splitIntoJars(sample("V2-2023-09"));
  misspell(sample("U2-2023-09"), "Rhithrogena", "Rithrogenna");
  sample("U4-2023-06").log.note = "spate two days before; the whole sample was sorted";
  sample("L3-2023-05").log.note = "few animals; the whole sample was sorted";
  sample("V4-2023-05").log.note = "much moss and sand; the whole sample was sorted";
  sample("L4-2023-09").log.preservative_fraction = "0.40";
  sample("L4-2023-09").log.note = "jar filled to the neck with leaves, little ethanol";
  sample("V3-2024-09").log.note = "water turbid, fine sediment over the riffle";

  add(sample("V4-2023-05"), [
    ["Heptageniidae", 11, "nymph", { condition: "early instar", note: "too small for a genus" }],
    ["Perlidae", 4, "nymph", { condition: "early instar", note: "too small for a genus" }],
    ["Psephenus", 2, "adult", { note: "on the stones above the water" }],
    ["Glossosoma", 9, "case", { note: "empty" }],
    ["Juga", 6, "shell", { note: "empty, bleached" }],
  ]);
  add(sample("U1-2023-06"), [
    ["Pteronarcys", 3, "exuviae", { note: "skins on the net frame" }],
    ["Heptageniidae", 8, "nymph", { condition: "early instar", note: "too small for a genus" }],
  ]);
  add(sample("L1-2023-05"), [
    ["Simulium", 7, "pupa", {}],
    ["Chironomidae", 5, "pupa", { note: "pupae left at family" }],
  ]);
  add(sample("L2-2023-09"), [
    ["Lampyridae", 2, "adult", { note: "fell in from the bank" }],
    ["Cottus", 1, "", { note: "kept by mistake" }],
  ]);
  add(sample("L1-2024-09"), [
    ["Gonidea", 3, "", { disposition: "released", note: "measured, photographed and put back alive" }],
  ]);
  add(sample("V2-2024-09"), [
    ["Pacifastacus", 1, "", { part: "large-rare", note: "search of the unsorted remainder" }],
  ]);
  add(sample("U3-2024-09"), [
    ["Orohermes", 1, "larva", { part: "large-rare", note: "search of the unsorted remainder" }],
  ]);
  return samples.flatMap((one) => (one.id === "V3-2023-09" ? [one, fieldDuplicate(seed, one)] : [one]));
}

function add(sample, additions) {
  for (const [taxon, count, life_stage, more] of additions) {
    const identified_by = sample.log.taxonomist;
    sample.rows.push({ sample_id: sample.id, taxon, count, life_stage, identified_by, ...more });
  }
}

function misspell(sample, name, wrong) {
  const row = sample.rows.find((one) => one.taxon === name);
  if (row === undefined) throw new Error(`${sample.id} holds no ${name}`);
  row.taxon = wrong;
}

/** Two jars, counted one after the other: the second holds the smaller half of every count. */
function splitIntoJars(sample) {
  sample.log.containers_expected = 2;
  sample.log.containers_received = 2;
  const jars = [
    sample.rows.map((row) => ({ ...row, count: Math.ceil(row.count / 2), container: "1 of 2" })),
    sample.rows.map((row) => ({ ...row, count: Math.floor(row.count / 2), container: "2 of 2" })),
  ];
  sample.rows = jars.flat().filter((row) => row.count > 0);
}

function fieldDuplicate(seed, primary) {
  const site = SITES.find((one) => one.id === primary.log.site_id);
  const round = ROUNDS[1];
  const of = new Map();
  for (const row of primary.rows) of.set(row.taxon, (of.get(row.taxon) ?? 0) + row.count);
  const duplicate = inventSample(seed, site, round, site.visits[1], {
    suffix: "-D",
    animals: 307,
    grids: 6,
    of,
  });
  Object.assign(duplicate.log, {
    replicate: 2,
    duplicate_of: primary.id,
    note: "field duplicate, beside the first",
  });
  return duplicate;
}
