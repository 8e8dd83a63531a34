/** Where the taxa of a tree stand when each is followed at once by all that it holds. */
export interface SubtreePlaces {
  /** Place of each taxon. */
  readonly places: Int32Array;
  /** Place behind the last taxon that each one holds. */
  readonly ends: Int32Array;
}

/**
 * Gives every taxon a place such that a taxon lies below another one exactly where its place is larger and before
 * the other's end: two comparisons in place of a walk up the tree.
 *
 * @param parents number of the parent of each taxon, lower than its own; -1 for a root
 */
export function subtreePlaces(parents: Int32Array): SubtreePlaces {
  const sizes = new Int32Array(parents.length).fill(1);
  for (let taxon = parents.length - 1; taxon >= 0; taxon--) {
    const parent = parents[taxon] as number;
    if (parent >= 0) sizes[parent] = (sizes[parent] as number) + (sizes[taxon] as number);
  }
  const places = new Int32Array(parents.length);
  const ends = new Int32Array(parents.length);
  /** The place that the next child of each taxon gets. */
  const next = new Int32Array(parents.length);
  let nextRoot = 0;
  for (let taxon = 0; taxon < parents.length; taxon++) {
    const parent = parents[taxon] as number;
    const place = parent < 0 ? nextRoot : (next[parent] as number);
    const end = place + (sizes[taxon] as number);
    if (parent < 0) nextRoot = end;
    else next[parent] = end;
    places[taxon] = place;
    ends[taxon] = end;
    next[taxon] = place + 1;
  }
  return { places, ends };
}
