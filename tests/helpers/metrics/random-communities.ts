import { createHash } from "node:crypto";
import { DITCH, RIFFLE } from "../../../src/metrics/worked-sheets.ts";
import type { Community } from "../../../src/model/community.ts";
import { communityOf, type SheetEntry } from "./build.ts";

/** Numbers from 0 up to 1 that follow from a text, for test data only. */
export function numbersFrom(text: string): () => number {
  let turn = 0;
  return () => {
    const digest = createHash("sha256").update(`${text} ${turn++}`).digest();
    return digest.readUInt32BE(0) / 2 ** 32;
  };
}

/** Taxa of the worked sheets and some of other corners of the tree, among them parents of others. */
export const POOL: readonly string[] = [
  ...new Set([...RIFFLE, ...DITCH].map(({ taxon }) => taxon)),
  "Acentrella",
  "Acroneuria",
  "Baetidae",
  "Baetis tricaudatus",
  "Chironomidae",
  "Diptera",
  "Elmidae",
  "Gammarus",
  "Helobdella",
  "Hydropsychidae",
  "Limnephilidae",
  "Nemouridae",
  "Polycelis",
  "Sialis",
];

/** Communities of 1 to 25 taxa with few and with many animals, some entries without richness or without animals. */
export function randomCommunities(howMany: number, seed: string): Community[] {
  const next = numbersFrom(seed);
  return Array.from({ length: howMany }, () => {
    const pool = [...POOL];
    const sheet: SheetEntry[] = [];
    const taxa = 1 + Math.floor(next() * 25);
    for (let i = 0; i < taxa; i++) {
      const [taxon = ""] = pool.splice(Math.floor(next() * pool.length), 1);
      const kind = next();
      const count = kind < 0.05 ? 0 : 1 + Math.floor(next() ** 4 * 300);
      const richness = kind > 0.9 ? 0 : kind > 0.85 ? 3 : 1;
      sheet.push([taxon, count, richness]);
    }
    return communityOf(sheet);
  });
}

/** The same entries in another order. */
export function shuffled(community: Community): Community {
  const order = [...community.taxa.keys()].reverse();
  if (order.length > 2) order.push(...order.splice(0, Math.floor(order.length / 3)));
  return {
    taxa: Int32Array.from(order, (i) => community.taxa[i] ?? 0),
    counts: Float64Array.from(order, (i) => community.counts[i] ?? 0),
    richness: Float64Array.from(order, (i) => community.richness[i] ?? 0),
    total: community.total,
  };
}

/** The same sample with rows of taxa that are not there: no animals and no taxon. */
export function withZeroRows(community: Community): Community {
  const present = new Set(community.taxa);
  const absent = [...communityOf(POOL.map((taxon): SheetEntry => [taxon, 0, 0])).taxa].filter(
    (taxon) => !present.has(taxon),
  );
  return {
    taxa: Int32Array.from([...community.taxa, ...absent]),
    counts: Float64Array.from([...community.counts, ...absent.map(() => 0)]),
    richness: Float64Array.from([...community.richness, ...absent.map(() => 0)]),
    total: community.total,
  };
}
