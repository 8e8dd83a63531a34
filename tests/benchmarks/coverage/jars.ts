import { readFileSync } from "node:fs";
import { join } from "node:path";
import { packageRoot } from "../../../src/files/package-root.ts";
import { randomStream } from "../../../src/subsample/stream.ts";

/** A jar whose animals are all known, spread over the grids of a tray. */
export interface KnownJar {
  readonly name: string;
  readonly taxa: readonly string[];
  /** Animals of each taxon in each grid. */
  readonly grids: readonly Int32Array[];
  readonly isClumped: boolean;
}

export const GRIDS = 30;

/** The jars of the study: two communities, each spread evenly and in clumps. */
export function knownJars(): KnownJar[] {
  const communities = [
    { name: "log-series", ...logSeries(1500, 11) },
    { name: "demo valley", ...demoCommunity(/^V[13]-/) },
    { name: "demo lowland", ...demoCommunity(/^L[1-4]-/) },
  ];
  return communities.flatMap(({ name, taxa, counts }) => [
    { name: `${name}, even`, taxa, grids: spread(name, counts, undefined), isClumped: false },
    { name: `${name}, clumped`, taxa, grids: spread(name, counts, 1), isClumped: true },
  ]);
}

/**
 * A log-series (Fisher, Corbet & Williams 1943): the r-th commonest of its taxa has the abundance of which r - 1/2
 * taxa are expected to have more. Names are taken at random from the insect genera that the demo set has a
 * tolerance for, so that order and tolerance have nothing to do with abundance.
 */
function logSeries(animals: number, alpha: number): { taxa: string[]; counts: number[] } {
  const x = animals / (animals + alpha);
  const counts: number[] = [];
  let above = 0;
  const expected: number[] = [];
  for (let n = 1; n <= animals; n++) expected[n] = (alpha * x ** n) / n;
  for (let n = animals; n >= 1; n--) {
    above += expected[n] ?? 0;
    while (above >= counts.length + 0.5) counts.push(n);
  }
  const names = genusNames()
    .filter((name) => toleranceNames().has(name))
    .sort();
  const stream = randomStream("coverage/1", "1", "names");
  for (let at = names.length - 1; at > 0; at--) {
    const other = stream.below(at + 1);
    [names[at], names[other]] = [names[other] ?? "", names[at] ?? ""];
  }
  return { taxa: names.slice(0, counts.length), counts: counts.slice(0, names.length) };
}

/** All animals of some of the demo's samples. */
function demoCommunity(sites: RegExp): { taxa: string[]; counts: number[] } {
  const totals = new Map<string, number>();
  for (const [sample, taxon, count] of demoRows())
    if (sites.test(sample)) totals.set(taxon, (totals.get(taxon) ?? 0) + count);
  return { taxa: [...totals.keys()], counts: [...totals.values()] };
}

/** Genera of the tree that count. */
function genusNames(): string[] {
  return tableRows("taxa/taxa.csv").flatMap(([taxon = "", rank, , , policy]) =>
    rank === "genus" && policy !== "exclude" && policy !== "release" ? [taxon] : [],
  );
}

function toleranceNames(): Set<string> {
  return new Set(tableRows("attributes/tolerance/rbp1999-northwest.csv").map(([taxon = ""]) => taxon));
}

function tableRows(file: string): string[][] {
  const text = readFileSync(join(packageRoot(), "reference-tables", file), "utf8");
  return text.split("\n").map((line) => line.split(","));
}

/** Rows of the demo sheet with genera that count. */
function demoRows(): [string, string, number][] {
  const [header = "", ...lines] = readFileSync(join(packageRoot(), "demo-data", "bench-sheet.csv"), "utf8")
    .trim()
    .split("\n");
  const columns = header.split(",");
  const genera = new Set(genusNames());
  const at = (name: string) => columns.indexOf(name);
  return lines.flatMap((line): [string, string, number][] => {
    const cells = line.split(",");
    const stage = cells[at("life_stage")] ?? "";
    const isLeftOut =
      /shell|case|exuviae|adult/.test(stage) ||
      cells[at("disposition")] === "released" ||
      cells[at("part")] === "large-rare";
    const taxon = cells[at("taxon")] ?? "";
    if (isLeftOut || !genera.has(taxon)) return [];
    return [[cells[at("sample_id")] ?? "", taxon, Number(cells[at("count")])]];
  });
}

/**
 * Spreads animals over the grids of a tray.
 *
 * @param shape of the gamma distribution that each taxon's weight of a grid is drawn from: 1 makes clumps; undefined
 *   gives every grid the same chance
 */
function spread(name: string, counts: readonly number[], shape: number | undefined): Int32Array[] {
  const stream = randomStream("coverage/1", "1", name, shape === undefined ? "even" : "clumped");
  const grids = Array.from({ length: GRIDS }, () => new Int32Array(counts.length));
  for (const [taxon, count] of counts.entries()) {
    const weights = grids.map(() =>
      shape === undefined ? 1 : -Math.log((stream.below(2 ** 32) + 0.5) / 2 ** 32),
    );
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    for (let animal = 0; animal < count; animal++) {
      let place = ((stream.below(2 ** 32) + 0.5) / 2 ** 32) * total;
      let at = 0;
      while (at < GRIDS - 1 && place > (weights[at] ?? 0)) place -= weights[at++] ?? 0;
      const grid = grids[at];
      if (grid !== undefined) grid[taxon] = (grid[taxon] ?? 0) + 1;
    }
  }
  return grids;
}
