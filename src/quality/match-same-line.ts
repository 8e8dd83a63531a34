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
  return flow.pairs().flatMap(({ from, to, count }) => {
    const a = primary[from];
    const b = recheck[to];
    return a === undefined || b === undefined ? [] : [{ primary: a.taxon, recheck: b.taxon, count }];
  });
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
    this.#targets[from]?.push(to);
  }

  /**
   * The shortest way from a name that has animals left to one that misses some. It alternates between the
   * lists; every second step takes animals back from a pair made earlier.
   */
  pathFrom(start: number): number[] | undefined {
    if ((this.#supply[start] ?? 0) === 0) return undefined;
    const seenTo = new Set<number>();
    const seenFrom = new Set([start]);
    let ways = [[start]];
    while (ways.length > 0) {
      const longer: number[][] = [];
      for (const way of ways) {
        for (const to of this.#targets[way.at(-1) ?? start] ?? []) {
          if (seenTo.has(to)) continue;
          seenTo.add(to);
          if ((this.#demand[to] ?? 0) > 0) return [...way, to];
          for (const [from, count] of this.#sources[to] ?? []) {
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
    const start = path[0] ?? 0;
    const end = path.at(-1) ?? 0;
    let most = Math.min(this.#supply[start] ?? 0, this.#demand[end] ?? 0);
    for (let at = 1; at + 1 < path.length; at += 2)
      most = Math.min(most, this.#between(path[at + 1], path[at]));
    if (most === 0) return;
    this.#supply[start] = (this.#supply[start] ?? 0) - most;
    this.#demand[end] = (this.#demand[end] ?? 0) - most;
    for (let at = 0; at + 1 < path.length; at += 2) this.#add(path[at], path[at + 1], most);
    for (let at = 1; at + 1 < path.length; at += 2) this.#add(path[at + 1], path[at], -most);
  }

  pairs(): { from: number; to: number; count: number }[] {
    return this.#sources
      .flatMap((sources, to) => [...sources].map(([from, count]) => ({ from, to, count })))
      .filter(({ count }) => count > 0)
      .sort((a, b) => a.from - b.from || a.to - b.to);
  }

  #between(from = 0, to = 0): number {
    return this.#sources[to]?.get(from) ?? 0;
  }

  #add(from = 0, to = 0, count = 0): void {
    this.#sources[to]?.set(from, this.#between(from, to) + count);
  }
}
