import type { ExchangeRecord, ExchangeRun, ExchangeSample } from "../../src/exchange/exchange-sample.ts";

/** A record of animals, made up. */
export function record(over: Partial<ExchangeRecord> = {}): ExchangeRecord {
  return {
    key: "Baetis",
    written: ["Baetis"],
    taxon: "Baetis",
    rank: "genus",
    operational: "",
    lineage: new Map([
      ["kingdom", "Animalia"],
      ["family", "Baetidae"],
      ["genus", "Baetis"],
    ]),
    stage: "nymph",
    largeRare: false,
    fate: "counts",
    why: "",
    doubts: [],
    count: 12,
    isExpanded: false,
    identifiedBy: ["TRV"],
    identifiedOn: [],
    ...over,
  };
}

/** A sample of an invented site. */
export function sample(over: Partial<ExchangeSample> = {}): ExchangeSample {
  return {
    sampleId: "V1-2023",
    siteId: "V1",
    collectedOn: "2023-05-16",
    stratum: "valley",
    facts: new Map([
      ["project", "Vennaloo survey"],
      ["latitude", "-47.168"],
      ["longitude", "-124.273"],
      ["datum", "WGS84"],
      ["gear", "D-frame net"],
      ["mesh_um", "500"],
      ["area_sampled_m2", "0.72"],
      ["target", "300"],
      ["note", "under the bridge"],
    ]),
    status: "scored",
    flags: [],
    isProtectedSite: false,
    records: [record()],
    metrics: [
      { id: "taxa_richness", name: "Taxa richness", unit: "taxa", value: 26, whyMissing: "", score: 10 },
    ],
    counted: 330,
    scored: 200,
    drawTarget: 200,
    fractionSorted: 0.2,
    index: 87.5,
    rating: "excellent",
    ...over,
  };
}

export const RUN: ExchangeRun = {
  set: {
    id: "vennaloo-demo",
    version: "1.0.0",
    title: "Demonstration index",
    hash: "ab".repeat(32),
    verification: "invented",
  },
  seed: "1",
  calculatedOn: "",
  exactPlaces: false,
};
