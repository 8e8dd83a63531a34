/** A row of the sample log that names the sample it repeats. */
export interface DuplicateLink {
  readonly sampleId: string;
  readonly of: string;
}

/** Samples of one site and visit: the primary first, then its duplicates in the order of the links. */
export interface DuplicateGroup {
  /** Id of the primary sample; names the group. */
  readonly primary: string;
  readonly sampleIds: readonly string[];
}

export interface DuplicateGroups {
  readonly groups: readonly DuplicateGroup[];
  /** Samples that name themselves, or each other in a circle, so that none of them is the primary. */
  readonly circular: readonly string[];
}

/**
 * Puts samples and their duplicates into groups. A duplicate of a duplicate belongs to the first primary.
 * Circular links make no group.
 */
export function groupDuplicates(links: readonly DuplicateLink[]): DuplicateGroups {
  const parents = new Map<string, string>();
  for (const { sampleId, of } of links) if (!parents.has(sampleId)) parents.set(sampleId, of);
  const members = new Map<string, string[]>();
  const circular: string[] = [];
  for (const sampleId of parents.keys()) {
    const root = rootOf(sampleId, parents);
    if (root === undefined) {
      circular.push(sampleId);
      continue;
    }
    const group = members.get(root);
    if (group === undefined) members.set(root, [root, sampleId]);
    else group.push(sampleId);
  }
  return {
    groups: [...members].map(([primary, sampleIds]) => ({ primary, sampleIds })),
    circular,
  };
}

function rootOf(sampleId: string, parents: ReadonlyMap<string, string>): string | undefined {
  const seen = new Set<string>();
  let at = sampleId;
  for (let next = parents.get(at); next !== undefined; next = parents.get(at)) {
    if (seen.has(at)) return undefined;
    seen.add(at);
    at = next;
  }
  return at;
}
