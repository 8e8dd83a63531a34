import type { ExchangeRecord, ExchangeSample } from "./exchange-sample.ts";

/**
 * Ids that are the same in every run of the same samples, whatever set scored them and whatever became of the
 * taxonomy: they are made of the ids and names that the lab wrote. Each part is percent-encoded, so that no two
 * things can get one id.
 */
function idOf(...parts: readonly string[]): string {
  return parts.map((part) => encodeURIComponent(part.replace(/\p{Cs}/gu, "\ufffd"))).join(":");
}

export function sampleIdOf({ sampleId }: Pick<ExchangeSample, "sampleId">): string {
  return idOf("sample", sampleId);
}

/** The visit of a sample; undefined when site or day is not known. */
export function visitIdOf({
  siteId,
  collectedOn,
}: Pick<ExchangeSample, "siteId" | "collectedOn">): string | undefined {
  return siteId === "" || collectedOn === "" ? undefined : idOf("visit", siteId, collectedOn);
}

export function recordIdOf(sample: Pick<ExchangeSample, "sampleId">, record: ExchangeRecord): string {
  const part = record.largeRare ? "large-rare" : "grids";
  const kind = record.isExpanded ? ["expanded"] : [];
  return `${sampleIdOf(sample)}:${idOf("taxon", record.key, record.stage, part, record.fate, ...kind)}`;
}

/** Something measured of a sample, in parts from coarse to fine. */
export function measurementIdOf(
  sample: Pick<ExchangeSample, "sampleId">,
  ...parts: readonly string[]
): string {
  return `${sampleIdOf(sample)}:${idOf(...parts)}`;
}
