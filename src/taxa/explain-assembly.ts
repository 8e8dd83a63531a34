import { at } from "../model/at.ts";
import type { AnimalMove, Assembled, AssemblyRules } from "./assemble.ts";
import { CommunityAssembler } from "./assemble.ts";
import type { CountedPile } from "./counted-pile.ts";
import { FinerRelation } from "./finer.ts";

/** What became of one pile before parents were dealt with. */
export interface PileFate {
  readonly pile: CountedPile;
  /** At the set's level. */
  readonly rolledUpTo: number;
  /** After taxa that the scheme treats as one were merged. */
  readonly countedAs: number;
  /** False for piles that the draw took and for large/rare finds that the set leaves out. */
  readonly takesPart: boolean;
}

/**
 * Why a record adds what it adds to richness:
 *
 * - `distinct`: nothing finer of its line is in the sample
 * - `says-yes`, `says-no`: the taxonomist decided
 * - `finer-records`: `because` lists the finer records, which stand for its line
 * - `finer-in-batch`: the finer records are in other samples of the batch
 * - `left-over`: it has finer records, and stands for more taxa than they do, or they add none
 */
export type RichnessReason =
  | "distinct"
  | "says-yes"
  | "says-no"
  | "finer-records"
  | "finer-in-batch"
  | "left-over";

/** One record of the sample, at the set's level, and what it adds. */
export interface RecordFate {
  readonly taxon: number;
  /** Animals before and after the parent rule. */
  readonly before: number;
  readonly after: number;
  readonly richness: number;
  readonly reason: RichnessReason;
  /** The finer records among the sample's, in code point order of their names. */
  readonly because: readonly number[];
}

/** The way of a sample from piles to taxa, for a reviewer who wants to redo it by hand. */
export interface AssemblyStory {
  readonly piles: readonly PileFate[];
  /** By name; records that the parent rule did away with are among them. */
  readonly records: readonly RecordFate[];
  readonly moves: readonly AnimalMove[];
  readonly assembled: Assembled;
}

/** Assembles one sample and tells what happened on the way; the numbers are those of `CommunityAssembler`. */
export function explainAssembly(piles: readonly CountedPile[], rules: AssemblyRules): AssemblyStory {
  const assembler = new CommunityAssembler(rules);
  const relation = new FinerRelation(rules.tree);
  const before = assembler.records(piles);
  const assembled = assembler.assemble(piles);
  const { community, moves } = assembled;
  const fates = piles.map((pile) => ({
    pile,
    rolledUpTo: at(rules.levelOf, pile.taxon),
    countedAs: assembler.countedAs(pile.taxon),
    takesPart: pile.largeRare ? rules.largeRare === "richness" : pile.count > 0,
  }));
  const animals = new Map(before.taxa.map((taxon, i) => [taxon, at(before.counts, i)]));
  const positions = new Map([...community.taxa].map((taxon, i) => [taxon, i]));
  const taxa = [...assembler.byName([...new Set([...before.taxa, ...community.taxa])])];
  // Large/rare finds without richness are no part of the community, but still records.
  const standing = taxa.filter(
    (taxon) => positions.has(taxon) || fates.some((fate) => fate.countedAs === taxon && fate.pile.largeRare),
  );
  const records = taxa.map((taxon): RecordFate => {
    const position = positions.get(taxon);
    const richness = position === undefined ? 0 : at(community.richness, position);
    const because = standing.filter((other) => relation.isFiner(other, taxon));
    const said = saidOf(taxon, fates);
    const inBatch = rules.parents === "distinct" && rules.batchTaxa?.hasFiner[taxon] === 1;
    return {
      taxon,
      before: animals.get(taxon) ?? 0,
      after: position === undefined ? 0 : at(community.counts, position),
      richness,
      reason: reasonOf(richness, because.length > 0, said, inBatch),
      because,
    };
  });
  return { piles: fates, records, moves, assembled };
}

function saidOf(taxon: number, fates: readonly PileFate[]): "yes" | "no" | "" {
  const words = fates.flatMap((fate) =>
    fate.takesPart && fate.countedAs === taxon ? [fate.pile.distinct] : [],
  );
  if (words.includes("yes")) return "yes";
  return words.length > 0 && words.every((word) => word === "no") ? "no" : "";
}

function reasonOf(
  richness: number,
  hasFiner: boolean,
  said: "yes" | "no" | "",
  hasFinerInBatch: boolean,
): RichnessReason {
  if (said === "yes") return "says-yes";
  if (said === "no" && richness === 0) return "says-no";
  if (richness > 0) return hasFiner ? "left-over" : "distinct";
  if (hasFiner || !hasFinerInBatch) return "finer-records";
  return "finer-in-batch";
}
