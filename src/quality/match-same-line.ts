import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { Leftover, NamePair } from "./leftover.ts";
import { coarserOf, stepsBetween } from "./taxonomic-line.ts";

/**
 * Pairs as many animals as can be paired whose two names stand on one line of the tree, so that the figure
 * without hierarchical disagreements does not depend on which pairing is found first. A maximum flow (Ford and
 * Fulkerson 1956) from the names of one sheet to those of the other; close names are paired first.
 *
 * @param primary leftovers of the first sheet, in code point order of the names
 * @param recheck leftovers of the second sheet, in the same order
 */
export function matchSameLine(
  tree: TaxonTree,
  primary: readonly Leftover[],
  recheck: readonly Leftover[],
): NamePair[] {
  const flow = new Flow(
    primary.map(({ count }) => count),
    recheck.map(({ count }) => count),
  );
  const edges = edgesOf(tree, primary, recheck);
  for (const edge of edges) flow.join(edge.from, edge.to);
  for (const edge of edges) flow.push([edge.from, edge.to]);
  for (let from = 0; from < primary.length; from++) {
    for (let path = flow.pathFrom(from); path !== undefined; path = flow.pathFrom(from)) flow.push(path);
  }
  return flow.pairs().map(({ from, to, count }) => ({
    primary: at(primary, from).taxon,
    recheck: at(recheck, to).taxon,
    count,
  }));
}

interface Edge {
  readonly from: number;
  readonly to: number;
  readonly steps: number;
}

function edgesOf(tree: TaxonTree, primary: readonly Leftover[], recheck: readonly Leftover[]): Edge[] {
  const edges: Edge[] = [];
  primary.forEach((a, from) => {
    recheck.forEach((b, to) => {
      if (coarserOf(tree, a.taxon, b.taxon) === undefined) return;
      edges.push({ from, to, steps: stepsBetween(tree, a.taxon, b.taxon) });
    });
  });
  return edges.sort((a, b) => a.steps - b.steps || a.from - b.from || a.to - b.to);
}

/** A flow of whole animals between two lists of names. */
class Flow {
  readonly #supply: number[];
  readonly #demand: number[];
  readonly #targets: number[][];
  /** For each name of the second list: animals that come from each name of the first. */
  readonly #sources: Map<number, number>[];

  constructor(supply: readonly number[], demand: readonly number[]) {
    this.#supply = [...supply];
    this.#demand = [...demand];
    this.#targets = supply.map(() => []);
    this.#sources = demand.map(() => new Map());
  }

  join(from: number, to: number): void {
    at(this.#targets, from).push(to);
  }

  /**
   * The shortest way from a name that has animals left to one that misses some. It alternates between the
   * lists; every second step takes animals back from a pair made earlier.
   */
  pathFrom(start: number): number[] | undefined {
    if (at(this.#supply, start) === 0) return undefined;
    const seenTo = new Set<number>();
    const seenFrom = new Set([start]);
    let ways = [[start]];
    while (ways.length > 0) {
      const longer: number[][] = [];
      for (const way of ways) {
        for (const to of at(this.#targets, at(way, way.length - 1))) {
          if (seenTo.has(to)) continue;
          seenTo.add(to);
          if (at(this.#demand, to) > 0) return [...way, to];
          for (const [from, count] of at(this.#sources, to)) {
            if (count === 0 || seenFrom.has(from)) continue;
            seenFrom.add(from);
            longer.push([...way, to, from]);
          }
        }
      }
      ways = longer;
    }
    return undefined;
  }

  /** Sends as many animals as the way allows: first, to, back, to, ... */
  push(path: readonly number[]): void {
    const start = at(path, 0);
    const end = at(path, path.length - 1);
    let most = Math.min(at(this.#supply, start), at(this.#demand, end));
    for (let step = 1; step + 1 < path.length; step += 2)
      most = Math.min(most, this.#between(at(path, step + 1), at(path, step)));
    if (most === 0) return;
    this.#supply[start] = at(this.#supply, start) - most;
    this.#demand[end] = at(this.#demand, end) - most;
    for (let step = 0; step + 1 < path.length; step += 2) this.#add(at(path, step), at(path, step + 1), most);
    for (let step = 1; step + 1 < path.length; step += 2)
      this.#add(at(path, step + 1), at(path, step), -most);
  }

  pairs(): { from: number; to: number; count: number }[] {
    return this.#sources
      .flatMap((sources, to) => [...sources].map(([from, count]) => ({ from, to, count })))
      .filter(({ count }) => count > 0)
      .sort((a, b) => a.from - b.from || a.to - b.to);
  }

  #between(from: number, to: number): number {
    return at(this.#sources, to).get(from) ?? 0;
  }

  #add(from: number, to: number, count: number): void {
    at(this.#sources, to).set(from, this.#between(from, to) + count);
  }
}
