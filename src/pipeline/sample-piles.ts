import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { LifeStage } from "../model/life-stage.ts";
import type { RowTable } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import type { CountPolicy } from "../names/count-policy.ts";
import { unknownMessage } from "../names/name-findings.ts";
import type { BatchNames } from "./batch-names.ts";
import type { PileColumns } from "./pile-gatherer.ts";
import { DISTINCT_WORDS, PileGatherer } from "./pile-gatherer.ts";
import { RowKinds } from "./row-kinds.ts";
import { refuseUnequalShares } from "./row-shares.ts";

const [UNSAID, YES, NO] = [
  DISTINCT_WORDS.indexOf(""),
  DISTINCT_WORDS.indexOf("yes"),
  DISTINCT_WORDS.indexOf("no"),
];

/** Animals of one sample under one name and stage, out of one part of the work (the grids, or the large/rare search). */
export interface Pile {
  readonly taxon: number;
  /** Number of the normalised name: the draw's order, which no change of the taxonomy moves. */
  readonly key: number;
  readonly stage: LifeStage;
  readonly largeRare: boolean;
  readonly count: number;
  readonly distinct: "yes" | "no" | "";
  /** How many taxa the pile stands for on a coarse tally sheet; 1 otherwise. */
  readonly numberOfTaxa: number;
  /** Row numbers it was summed from; made when asked for, so a copy of the pile by spreading is without. */
  readonly rows: readonly number[];
  /** The first of them. */
  readonly firstRow: number;
  /** The pile itself: where nothing is drawn it stands for what the draw would leave of it. */
  readonly pile: Pile;
  /** The count, likewise. */
  readonly beforeDraw: number;
}

/** Animals of a row that do not take part, with the reason. */
export interface LeftOut {
  readonly row: number;
  readonly taxon: number;
  readonly count: number;
  readonly what: "excluded" | "released";
  readonly reason: string;
}

/** What the sheet says of one sample once names are resolved and animals that do not count are out. */
export interface SamplePiles extends GatheredSample {
  /** In the draw's canonical order: name, stage, part. */
  readonly piles: readonly Pile[];
}

/** The same beside its piles. */
export interface GatheredSample {
  readonly leftOut: readonly LeftOut[];
  /** Animals of the main part that count. */
  readonly counted: number;
  /** Codes that refuse the sample. */
  readonly refusals: readonly FindingCode[];
  /** Some counts were expanded from a part, so no animal of the sample can be drawn. */
  readonly hasExpanded: boolean;
}

/** What `gatherPiles` reads. */
export interface PileSources {
  readonly table: RowTable;
  readonly names: BatchNames;
  readonly policy: CountPolicy;
  readonly findings: FindingSink;
}

/** @see gatherColumns; the piles are objects */
export function gatherPiles(sampleId: string, rows: Uint32Array, sources: PileSources): SamplePiles {
  const { columns, ...sample } = gatherColumns(sampleId, rows, sources);
  return { ...sample, piles: columns.piles() };
}

/**
 * Gathers the rows of one sample into piles: unresolved names refuse it, animals that do not count leave it
 * with a note, and rows of the same name and stage are summed (jars, grids, sheets).
 *
 * @param rows row numbers of the sample, in the order of the files
 * @returns piles in columns, which are good until the next sample is gathered
 */
export function gatherColumns(
  sampleId: string,
  rows: Uint32Array,
  sources: PileSources,
): GatheredSample & { readonly columns: PileColumns } {
  const { table, names } = sources;
  const { piles, kinds } = gathererOf(names, sources.policy);
  const leftOut: LeftOut[] = [];
  const refusals = new Set<FindingCode>();
  const summed: number[] = [];
  let counted = 0;
  let hasExpanded = false;
  // Sheets without shares, as nearly all are, need no look at them.
  const hasRare = table.hasRare;
  for (let at = 0; at < rows.length; at++) {
    const row = rows[at] as number;
    const name = table.nameAt(row);
    const taxon = names.taxa[name] as number;
    if (taxon < 0) {
      refusals.add(reportUnknown(sampleId, row, sources));
      continue;
    }
    const flags = table.flagsAt(row);
    const kind = kinds.of(name, table.stageNumberAt(row));
    const isReleased = (flags & ROW_FLAGS.released) !== 0;
    const decision = isReleased ? kinds.policy.decide(taxon, kind.stage, true) : kind.decision;
    const count = table.countAt(row);
    if (decision.policy !== "count") {
      leftOut.push({
        row,
        taxon,
        count,
        what: decision.policy === "release" ? "released" : "excluded",
        reason: decision.reason,
      });
      continue;
    }
    if ((flags & ROW_FLAGS.expanded) !== 0) hasExpanded = true;
    const largeRare = (flags & ROW_FLAGS.largeRare) !== 0;
    if (!largeRare) counted += count;
    if (hasRare && !largeRare && count > 0 && (flags & ROW_FLAGS.expanded) === 0) summed.push(row);
    const distinct =
      (flags & ROW_FLAGS.distinctYes) !== 0 ? YES : (flags & ROW_FLAGS.distinctNo) !== 0 ? NO : UNSAID;
    const numberOfTaxa = table.rareAt(row)?.numberOfTaxa ?? 1;
    piles.add(row, kind, largeRare, count, distinct, numberOfTaxa);
  }
  const unequal = refuseUnequalShares(sampleId, summed, table, sources.findings);
  if (unequal !== undefined) refusals.add(unequal);
  reportLeftOut(sampleId, leftOut, sources);
  return { columns: piles.take(), leftOut, counted, refusals: [...refusals], hasExpanded };
}

/** Where a row stands, for findings about its name. */
export function placeOfName(table: RowTable, row: number): Place {
  return { file: table.fileAt(row), line: table.lineAt(row), column: table.nameColumnAt(row) };
}

/** Where findings about a whole sample point: its first row. */
export function placeOfSample(table: RowTable, rows: Uint32Array): Place {
  const first = rows[0];
  return first === undefined
    ? { file: table.files[0] ?? "", line: 0, column: 0 }
    : { file: table.fileAt(first), line: table.lineAt(first), column: 1 };
}

/** What all samples of a batch are gathered with. */
interface BatchGatherer {
  readonly piles: PileGatherer;
  readonly kinds: RowKinds;
}

const GATHERERS = new WeakMap<BatchNames, BatchGatherer>();

function gathererOf(names: BatchNames, policy: CountPolicy): BatchGatherer {
  const known = GATHERERS.get(names);
  if (known?.kinds.policy === policy) return known;
  const gatherer = { piles: new PileGatherer(names.keyNames.length), kinds: new RowKinds(names, policy) };
  GATHERERS.set(names, gatherer);
  return gatherer;
}

function reportUnknown(sampleId: string, row: number, { table, names, findings }: PileSources): FindingCode {
  const name = table.nameAt(row);
  const resolution = names.resolutions[name];
  const unknown = resolution?.kind === "unknown" ? resolution : { kind: "unknown" as const, suggestions: [] };
  const message = unknownMessage(table.names.textOf(name), unknown);
  findings.add(finding("unknown-taxon", placeOfName(table, row), { message, sampleId }));
  return "unknown-taxon";
}

function reportLeftOut(
  sampleId: string,
  leftOut: readonly LeftOut[],
  { table, names, findings }: PileSources,
): void {
  for (const { row, taxon, count, what, reason } of leftOut) {
    const animals = `${count} ${names.tree.nameOf(taxon)}`;
    findings.add(
      what === "released"
        ? finding("released-animals", placeOfName(table, row), {
            message: `${animals} recorded and not counted: ${reason}`,
            sampleId,
          })
        : finding("excluded-animals", placeOfName(table, row), {
            message: `${animals} left out: ${reason}`,
            sampleId,
          }),
    );
  }
}
