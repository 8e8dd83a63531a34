import type { Exact } from "../model/exact.ts";
import { fraction } from "../model/exact.ts";
import { compareCodePoints } from "../model/order.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { Disagreement } from "./disagreements.ts";
import type { IdentificationFigures } from "./identification.ts";
import { disagreementOf } from "./identification.ts";
import type { Outcome } from "./judgement.ts";
import { combineOutcomes } from "./judgement.ts";
import type { SheetCounts } from "./match-sheets.ts";
import { meanExact, percentOfSome } from "./percent.ts";

/** One re-identified sample of a batch. */
export interface RecheckedSample {
  readonly figures: IdentificationFigures;
  readonly primary: SheetCounts;
  readonly recheck: SheetCounts;
  readonly disagreements: readonly Disagreement[];
  /** Who named the first sheet; empty when it is not known. */
  readonly taxonomist: string;
  /** ISO 8601 date of the first identification, or empty. */
  readonly date: string;
}

/** The samples of one taxonomist. Means give every sample the same weight, the pooled figure every animal. */
export interface TaxonomistSummary {
  readonly taxonomist: string;
  readonly samples: number;
  readonly failed: number;
  readonly animals: number;
  readonly meanEnumerationDifference: Exact | undefined;
  readonly meanDisagreement: Exact | undefined;
  readonly meanDisagreementWithoutHierarchical: Exact | undefined;
  readonly pooledDisagreement: Exact | undefined;
  readonly meanBrayCurtis: Exact | undefined;
  readonly meanPercentSimilarity: Exact | undefined;
  /** Mean number of families per sample that only the second taxonomist found. */
  readonly meanGains: Exact | undefined;
  readonly outcome: Outcome;
}

/** One name over the batch: how often it was used and how often the other sheet said something else. */
export interface DisputedTaxon {
  readonly taxon: number;
  /** Samples in which one of the sheets has the name. */
  readonly samples: number;
  readonly animalsPrimary: number;
  readonly animalsRecheck: number;
  readonly agreed: number;
  /** Animals of disagreements in which the name takes part on either side. */
  readonly disputed: number;
  readonly disputedSamples: number;
  /** 100 x disputed / (agreed + disputed). */
  readonly percentDisputed: Exact;
  /** The other name most often found instead; undefined when the animals were only miscounted or missed. */
  readonly mostOftenInstead: number | undefined;
}

/** One summary per taxonomist in code point order; who is not known stands last. */
export function summariseTaxonomists(samples: readonly RecheckedSample[]): TaxonomistSummary[] {
  const people = new Map<string, RecheckedSample[]>();
  for (const sample of samples) {
    const own = people.get(sample.taxonomist);
    if (own === undefined) people.set(sample.taxonomist, [sample]);
    else own.push(sample);
  }
  return [...people]
    .sort(([a], [b]) => Number(a === "") - Number(b === "") || compareCodePoints(a, b))
    .map(([taxonomist, own]) => summariseSamples(taxonomist, own));
}

/** The same figures over any list of samples, for instance the whole batch. */
export function summariseSamples(name: string, samples: readonly RecheckedSample[]): TaxonomistSummary {
  const mean = (pick: (figures: IdentificationFigures) => Exact | undefined) =>
    meanExact(samples.flatMap(({ figures }) => pick(figures) ?? []));
  const sum = (pick: (figures: IdentificationFigures) => number) =>
    samples.reduce((total, { figures }) => total + pick(figures), 0);
  const larger = ({ matching }: IdentificationFigures) =>
    Math.max(matching.primaryTotal, matching.recheckTotal);
  return {
    taxonomist: name,
    samples: samples.length,
    failed: samples.filter(({ figures }) => figures.outcome === "fail").length,
    animals: sum(({ matching }) => matching.primaryTotal),
    meanEnumerationDifference: mean((figures) => figures.enumerationDifference),
    meanDisagreement: mean((figures) => figures.disagreement),
    meanDisagreementWithoutHierarchical: mean((figures) => figures.disagreementWithoutHierarchical),
    pooledDisagreement: disagreementOf(
      sum(({ matching }) => matching.agreements),
      sum(larger),
    ),
    meanBrayCurtis: mean((figures) => figures.brayCurtis),
    meanPercentSimilarity: mean((figures) => figures.percentSimilarity),
    meanGains: meanExact(samples.map(({ figures }) => fraction(figures.gains))),
    outcome: combineOutcomes(samples.map(({ figures }) => figures.outcome)),
  };
}

/** Every name of the batch that was disputed at least once, most disputed animals first. */
export function disputedTaxa(samples: readonly RecheckedSample[], tree: TaxonTree): DisputedTaxon[] {
  const tallies = new Map<number, Tally>();
  for (const sample of samples) {
    for (const taxon of new Set([...sample.primary.keys(), ...sample.recheck.keys()])) {
      const tally = tallyOf(tallies, taxon);
      const a = sample.primary.get(taxon) ?? 0;
      const b = sample.recheck.get(taxon) ?? 0;
      tally.samples++;
      tally.primary += a;
      tally.recheck += b;
      tally.agreed += Math.min(a, b);
    }
    for (const row of sample.disagreements) addDispute(tallies, row);
  }
  return [...tallies]
    .filter(([, tally]) => tally.disputed > 0)
    .map(([taxon, tally]) => ({
      taxon,
      samples: tally.samples,
      animalsPrimary: tally.primary,
      animalsRecheck: tally.recheck,
      agreed: tally.agreed,
      disputed: tally.disputed,
      disputedSamples: tally.disputedIn.size,
      percentDisputed: percentOfSome(tally.disputed, tally.agreed + tally.disputed),
      mostOftenInstead: mostOften(tally.instead, tree),
    }))
    .sort((a, b) => b.disputed - a.disputed || compareCodePoints(tree.nameOf(a.taxon), tree.nameOf(b.taxon)));
}

interface Tally {
  samples: number;
  primary: number;
  recheck: number;
  agreed: number;
  disputed: number;
  readonly disputedIn: Set<string>;
  readonly instead: Map<number, number>;
}

function tallyOf(tallies: Map<number, Tally>, taxon: number): Tally {
  const known = tallies.get(taxon);
  if (known !== undefined) return known;
  const fresh = {
    samples: 0,
    primary: 0,
    recheck: 0,
    agreed: 0,
    disputed: 0,
    disputedIn: new Set<string>(),
    instead: new Map<number, number>(),
  };
  tallies.set(taxon, fresh);
  return fresh;
}

function addDispute(tallies: Map<number, Tally>, row: Disagreement): void {
  const sides = new Set([row.primary, row.recheck]);
  for (const taxon of sides) {
    if (taxon === undefined) continue;
    const tally = tallyOf(tallies, taxon);
    tally.disputed += row.animals;
    tally.disputedIn.add(row.sampleId);
    for (const other of sides) {
      if (other === undefined || other === taxon) continue;
      tally.instead.set(other, (tally.instead.get(other) ?? 0) + row.animals);
    }
  }
}

function mostOften(instead: ReadonlyMap<number, number>, tree: TaxonTree): number | undefined {
  return [...instead].sort(
    ([a, x], [b, y]) => y - x || compareCodePoints(tree.nameOf(a), tree.nameOf(b)),
  )[0]?.[0];
}
