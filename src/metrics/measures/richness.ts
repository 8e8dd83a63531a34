import type { Community } from "../../model/community.ts";

/** Taxa in the taxa of a mask: the sum of what each entry adds to richness. */
export function countTaxa(community: Community, mask: Uint8Array): number {
  const { taxa, richness } = community;
  let sum = 0;
  for (let i = 0; i < taxa.length; i++) if (mask[taxa[i] ?? 0] === 1) sum += richness[i] ?? 0;
  return sum;
}

/** Entries of a mask that stand for at least one taxon, each once however many taxa it stands for. */
export function countEntries(community: Community, mask: Uint8Array): number {
  const { taxa, richness } = community;
  let sum = 0;
  for (let i = 0; i < taxa.length; i++) if (mask[taxa[i] ?? 0] === 1 && (richness[i] ?? 0) > 0) sum++;
  return sum;
}

/** Taxa of a whole community. */
export function countAllTaxa(community: Community): number {
  const { richness } = community;
  let sum = 0;
  for (let i = 0; i < richness.length; i++) sum += richness[i] ?? 0;
  return sum;
}
