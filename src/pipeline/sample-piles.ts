import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import { COUNT, flagsIn, kindIn, NAME, REST, ROW_WORDS } from "../model/row-words.ts";
import type { RowTable } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import type { CountPolicy } from "../names/count-policy.ts";
import { unknownMessage } from "../names/name-findings.ts";
import { PILE_BITS } from "../taxa/counted-columns.ts";
import type { BatchNames } from "./batch-names.ts";
import type { GatheredPiles, Pile } from "./gathered-piles.ts";
import { PileGatherer } from "./pile-gatherer.ts";
import { RowKinds } from "./row-kinds.ts";
import { refuseUnequalShares } from "./row-shares.ts";

export type { Pile };

/** Animals of a row that do not take part, with the reason. */
export interface LeftOut {
  readonly row: number;
  readonly taxon: number;
  readonly count: number;
  readonly what: "excluded" | "released";
  readonly reason: string;
}

/** What the sheet says of one sample once names are resolved and animals that do not count are out. */
export class SamplePiles {
  readonly columns: GatheredPiles;
  readonly leftOut: readonly LeftOut[];
  /** Animals of the main part that count. */
  readonly counted: number;
  /** Codes that refuse the sample. */
  readonly refusals: readonly FindingCode[];
  /** Some counts were expanded from a part, so no animal of the sample can be drawn. */
  readonly hasExpanded: boolean;
  #piles: readonly Pile[] | undefined;

  constructor(
    columns: GatheredPiles,
    leftOut: readonly LeftOut[],
    counted: number,
    refusals: readonly FindingCode[],
    hasExpanded: boolean,
  ) {
    this.columns = columns;
    this.leftOut = leftOut;
    this.counted = counted;
    this.refusals = refusals;
    this.hasExpanded = hasExpanded;
  }

  /** One by one in the draw's canonical order: name, stage, part. Made when they are asked for. */
  get piles(): readonly Pile[] {
    this.#piles ??= this.columns.list();
    return this.#piles;
  }
}

/** What `gatherPiles` reads. */
export interface PileSources {
  readonly table: RowTable;
  readonly names: BatchNames;
  readonly policy: CountPolicy;
  readonly findings: FindingSink;
}

/**
 * Gathers the rows of one sample into piles: unresolved names refuse it, animals that do not count leave it
 * with a note, and rows of the same name and stage are summed (jars, grids, sheets).
 *
 * @param sample its number in the table
 */
export function gatherPiles(sample: number, sources: PileSources): SamplePiles {
  const { table, names } = sources;
  const { piles, kinds } = gathererOf(names, sources.policy);
  const sampleId = table.samples.textOf(sample);
  const bySample = table.bySample();
  const from = bySample.starts[sample] as number;
  const end = bySample.starts[sample + 1] as number;
  const leftOut: LeftOut[] = [];
  const summed: number[] = [];
  let refusals = NO_CODES;
  let counted = 0;
  let hasExpanded = false;
  // Sheets without shares, as nearly all are, need no look at them.
  const hasRare = table.hasRare;
  piles.start(end - from);
  let { words, word } = bySample;
  for (let at = from, ready = from; at < end; at++, word += ROW_WORDS) {
    if (at === ready) {
      ready += bySample.lay(at, end);
      words = bySample.words;
      word = bySample.word;
    }
    const row = bySample.order[at] as number;
    const kind = kinds.of(kindIn(words, word));
    if (kind === undefined) {
      refusals = [reportUnknown(sampleId, row, sources)];
      continue;
    }
    const { taxon } = kind;
    const flags = flagsIn(words[word + REST] as number);
    const isReleased = (flags & ROW_FLAGS.released) !== 0;
    const decision = isReleased ? kinds.policy.decide(taxon, kind.stage, true) : kind.decision;
    const count = words[word + COUNT] as number;
    if (decision.policy !== "count") {
      const what = decision.policy === "release" ? "released" : "excluded";
      leftOut.push({ row, taxon, count, what, reason: decision.reason });
      continue;
    }
    const said = saidBy(flags);
    const isExpanded = (flags & ROW_FLAGS.expanded) !== 0;
    if (isExpanded) hasExpanded = true;
    if ((said & PILE_BITS.find) === 0) {
      counted += count;
      if (hasRare && count > 0 && !isExpanded) summed.push(row);
    }
    const numberOfTaxa = hasRare ? (table.rareAt(row)?.numberOfTaxa ?? 1) : 1;
    piles.add(row, words[word + NAME] as number, kind, said, count, numberOfTaxa);
  }
  const unequal = refuseUnequalShares(sampleId, summed, table, sources.findings);
  if (unequal !== undefined) refusals = [...refusals, unequal];
  reportLeftOut(sampleId, leftOut, sources);
  return new SamplePiles(piles.take(), leftOut, counted, refusals, hasExpanded);
}

const NO_CODES: readonly FindingCode[] = [];

/** What the flags of a row say of its pile. */
function saidBy(flags: number): number {
  const find = (flags & ROW_FLAGS.largeRare) === 0 ? 0 : PILE_BITS.find;
  if ((flags & ROW_FLAGS.distinctYes) !== 0) return find | PILE_BITS.yes;
  return find | ((flags & ROW_FLAGS.distinctNo) === 0 ? PILE_BITS.open : PILE_BITS.no);
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
