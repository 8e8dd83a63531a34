import { inventCatch } from "./catch.mjs";
import { startStream } from "./random.mjs";
import { BENCH, ROUNDS, SITES, VARIETY } from "./sites.mjs";
import { RIFFLE_BEETLES, TAXA } from "./taxa.mjs";

const STAGES = new Map(TAXA.map((taxon) => [taxon.name, taxon.stage]));

/**
 * Every visit to every site as one sample: its row of the sample log and its rows of the bench sheet, still
 * without the troubles of a real batch. Round by round, site by site.
 *
 * @param {number} seed
 * @returns {{id: string, log: Record<string, string|number>, rows: Record<string, string|number>[]}[]}
 */
export function inventSamples(seed) {
  return ROUNDS.flatMap((round, visit) =>
    SITES.map((site) => inventSample(seed, site, round, site.visits[visit])),
  );
}

/**
 * @param {{suffix: string, animals: number, grids: number, of: ReadonlyMap<string, number>}} [duplicate] makes a
 *   field duplicate of the visit: a second sample taken beside the first, whose counts by taxon are `of`
 */
export function inventSample(seed, site, round, visit, duplicate) {
  const [day, daysOnTheWay, stress] = visit;
  const [animals, grids] = duplicate ? [duplicate.animals, duplicate.grids] : visit.slice(3);
  const id = `${site.id}-${round.year}-${day.slice(0, 2)}${duplicate?.suffix ?? ""}`;
  const stream = startStream(seed, id);
  const variety = VARIETY[site.stratum][stress];
  const { stratum } = site;
  const counts = inventCatch(
    { stratum, stress, animals, variety, season: round.season },
    stream,
    duplicate?.of,
  );
  const { sorter, taxonomist } = BENCH[site.crew];
  const log = {
    sample_id: id,
    site_id: site.id,
    collected_on: `${round.year}-${day}`,
    received_on: laterDate(`${round.year}-${day}`, daysOnTheWay),
    project: "Vennaloo watershed survey",
    waterbody: site.waterbody,
    stratum,
    latitude: site.coordinates[0],
    longitude: site.coordinates[1],
    datum: "WGS84",
    gear: "D-frame net",
    mesh_um: 500,
    habitat: "riffle",
    replicate: 1,
    area_sampled_m2: "0.72",
    tray: "5x6",
    grids_sorted: grids,
    // Three of the 30 grids are a tenth; other shares have no short decimal, and the grids say it all.
    fraction_sorted: grids % 3 === 0 ? String(grids / 30) : "",
    target: round.target,
    containers_expected: 1,
    containers_received: 1,
    preservative: "ethanol",
    preservative_fraction: `0.${80 + stream.below(12)}`,
    ethanol_percent: 95,
    lot: round.lot,
    sorter,
    taxonomist,
    crew: `${site.crew} crew`,
  };
  const rows = [];
  for (const [taxon, count] of counts) rows.push(...benchRows(id, taxon, count, taxonomist, stream));
  return { id, log, rows };
}

function benchRows(id, taxon, count, taxonomist, stream) {
  const row = { sample_id: id, taxon, count, life_stage: STAGES.get(taxon), identified_by: taxonomist };
  if (!RIFFLE_BEETLES.includes(taxon)) return [row];
  let adults = 0;
  for (let i = 0; i < count; i++) if (stream.below(4) === 0) adults++;
  return [
    { ...row, count: count - adults },
    { ...row, count: adults, life_stage: "adult" },
  ].filter((part) => part.count > 0);
}

function laterDate(date, days) {
  const later = new Date(`${date}T00:00:00Z`);
  later.setUTCDate(later.getUTCDate() + days);
  return later.toISOString().slice(0, 10);
}
