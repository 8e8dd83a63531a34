import { ROW_FLAGS } from "../model/rows.ts";
import type { SampleFacts } from "../model/sample-facts.ts";
import { fact } from "../model/sample-facts.ts";
import { CountPolicy } from "../names/count-policy.ts";
import type { Batch } from "./score-batch.ts";

/**
 * Says of every sample whether animals that go back to the stream alive (native mussels, whatever else the crew
 * put back) were found at its site. One visit without them does not make the place less theirs, so all samples of
 * a site, and all with the same coordinates, go together.
 *
 * @returns a test by sample id
 */
export function protectedSites(batch: Pick<Batch, "table" | "names" | "log">): (sampleId: string) => boolean {
  const { table, names, log } = batch;
  const policy = new CountPolicy(names.tree, []);
  const places = new Set<string>();
  for (let row = 0; row < table.size; row++) {
    if (table.countAt(row) === 0) continue;
    const taxon = names.taxa[table.nameAt(row)] as number;
    const wasPutBack = (table.flagsAt(row) & ROW_FLAGS.released) !== 0;
    if (!wasPutBack && !(taxon >= 0 && policy.goesBackAlive(taxon))) continue;
    const sampleId = table.samples.textOf(table.sampleAt(row));
    for (const place of placesOf(sampleId, log.get(sampleId))) places.add(place);
  }
  return (sampleId) => placesOf(sampleId, log.get(sampleId)).some((place) => places.has(place));
}

function placesOf(sampleId: string, facts: SampleFacts | undefined): string[] {
  const site = fact(facts, "site_id");
  const latitude = fact(facts, "latitude");
  const longitude = fact(facts, "longitude");
  return [
    `sample ${sampleId}`,
    ...(site === undefined ? [] : [`site ${site}`]),
    ...(latitude === undefined || longitude === undefined ? [] : [`at ${latitude} ${longitude}`]),
  ];
}
