import type { Exact } from "../../model/exact.ts";
import { exactOf, fraction, multiply } from "../../model/exact.ts";
import { numberText } from "../../model/number-text.ts";
import type { Rank } from "../../model/taxon-tree.ts";
import type { ChoiceGrouping } from "../../quality/choice-candidates.ts";
import type { QualityLimit } from "../../quality/judgement.ts";
import { USUAL_LIMITS } from "../../quality/limits.ts";
import { EFFICIENCY_RULE } from "../../quality/sorting.ts";
import { DEFAULT_SEED, parseSeed } from "../../subsample/seed.ts";
import { chooseRechecks as chooseOfLog } from "../quality/choice-run.ts";
import type { DuplicateLinks } from "../quality/duplicates-run.ts";
import { checkDuplicates as checkDuplicateFiles } from "../quality/duplicates-run.ts";
import { checkIdentification as checkIdentificationFiles } from "../quality/identification-run.ts";
import type { QualityRun } from "../quality/quality-run.ts";
import { checkSorting as checkSortingFiles } from "../quality/sorting-run.ts";
import { checkRequest, RequestError } from "./request.ts";
import type { SheetSource } from "./sources.ts";
import { openOptional, openSource, openSources } from "./sources.ts";

interface QualityRequest {
  /** Encoding of text files that are not UTF-8 or UTF-16. */
  readonly encoding?: string;
  /** The folder in which relative paths are looked up; the working folder when left out. */
  readonly cwd?: string;
}

const QUALITY_SHAPE = { encoding: "text", cwd: "text" } as const;

/** Sorting checks, and the limit they are held against. */
export interface CheckSortingRequest extends QualityRequest {
  /** The sheet of checks: sample_id, sorted_count, recovered_count, fraction_checked, sorter. */
  readonly checks: SheetSource;
  /** The sample log, for sorters, lots and months. */
  readonly samples?: SheetSource;
  /** Least sorting efficiency in percent; 90 when left out. */
  readonly limitPercent?: number;
  /** Share of a sorter's samples that a first round checks, in percent; 10 when left out. */
  readonly sharePercent?: number;
}

/**
 * How much of each sample its sorter found, against a limit.
 *
 * @throws RequestError for a request that cannot be met, FileError when a file cannot be read
 */
export async function checkSorting(request: CheckSortingRequest): Promise<QualityRun> {
  const what = "checkSorting";
  checkRequest<CheckSortingRequest>(what, request, {
    checks: "source!",
    samples: "source",
    limitPercent: "number",
    sharePercent: "number",
    ...QUALITY_SHAPE,
  });
  const cwd = request.cwd ?? ".";
  const { limitPercent, sharePercent } = request;
  return checkSortingFiles(
    {
      checks: await openSource(request.checks, cwd),
      sampleLog: await openOptional(request.samples, cwd),
      encoding: request.encoding,
    },
    {
      rule:
        limitPercent === undefined
          ? EFFICIENCY_RULE
          : { kind: "efficiency", limitPercent: percent(what, "limitPercent", limitPercent) },
      share: shareOf(what, sharePercent ?? 10),
    },
  );
}

/** Two readings of the same animals, and how they are compared. Limits are in percent; null is none. */
export interface CheckIdentificationRequest extends QualityRequest {
  /** Bench sheets of the first identification. */
  readonly primary: readonly SheetSource[];
  /** Bench sheets of the second one. */
  readonly recheck: readonly SheetSource[];
  readonly samples?: SheetSource;
  readonly names?: SheetSource;
  /** Id or path of a reference set, for its level and the animals that it counts. */
  readonly reference?: string;
  /** Target rank; the set's when left out, genus without a set. */
  readonly rank?: Rank;
  /** Most difference in enumeration (PDE); 5 when left out. */
  readonly enumerationLimit?: number | null;
  /** Most taxonomic disagreement (PTD); 15 when left out. */
  readonly disagreementLimit?: number | null;
}

/**
 * Compares two bench sheets of the same animals: every sample that is on both.
 *
 * @throws RequestError for a request that cannot be met, FileError when a file cannot be read, UnknownSetError
 */
export async function checkIdentification(request: CheckIdentificationRequest): Promise<QualityRun> {
  const what = "checkIdentification";
  checkRequest<CheckIdentificationRequest>(what, request, {
    primary: "sources!",
    recheck: "sources!",
    samples: "source",
    names: "source",
    reference: "text",
    rank: "text",
    enumerationLimit: "number",
    disagreementLimit: "number",
    ...QUALITY_SHAPE,
  });
  const cwd = request.cwd ?? ".";
  const { enumerationLimit, disagreementLimit } = request;
  return checkIdentificationFiles(
    {
      primary: await openSources(request.primary, cwd),
      recheck: await openSources(request.recheck, cwd),
      sampleLog: await openOptional(request.samples, cwd),
      names: await openOptional(request.names, cwd),
      encoding: request.encoding,
    },
    {
      rules: {
        enumeration: "sum",
        enumerationLimit: limit(what, "enumerationLimit", enumerationLimit, USUAL_LIMITS.enumeration),
        disagreementLimit: limit(what, "disagreementLimit", disagreementLimit, USUAL_LIMITS.disagreement),
        completenessLimit: undefined,
        hierarchical: "count",
      },
      rank: request.rank,
      reference: request.reference,
      gainsLimit: undefined,
    },
    cwd,
  );
}

/** Scores and the log that says which samples repeat which. */
export interface CheckDuplicatesRequest extends QualityRequest {
  /** A table that score wrote, wide or long. */
  readonly scores: SheetSource;
  readonly samples: SheetSource;
  /** Which column of the log links the samples; duplicate_of when left out. */
  readonly links?: DuplicateLinks;
  /** Most relative percent difference of the index within a group; 15 when left out, null for none. */
  readonly limit?: number | null;
  /** Whether the limit holds for every metric too. */
  readonly limitsMetrics?: boolean;
}

/**
 * How far duplicates lie apart, and the precision of the index and of every metric that follows from it.
 *
 * @throws RequestError for a request that cannot be met, FileError when a file cannot be read
 */
export async function checkDuplicates(request: CheckDuplicatesRequest): Promise<QualityRun> {
  const what = "checkDuplicates";
  checkRequest<CheckDuplicatesRequest>(what, request, {
    scores: "source!",
    samples: "source!",
    links: "text",
    limit: "number",
    limitsMetrics: "anything",
    ...QUALITY_SHAPE,
  });
  const cwd = request.cwd ?? ".";
  return checkDuplicateFiles(
    {
      scores: await openSource(request.scores, cwd),
      sampleLog: await openSource(request.samples, cwd),
      encoding: request.encoding,
    },
    {
      links: request.links ?? "duplicate_of",
      limit: limit(what, "limit", request.limit, USUAL_LIMITS.relativeDifference),
      limitsMetrics: request.limitsMetrics === true,
    },
  );
}

/** From which log, and how many of its samples, a second person checks. */
export interface ChooseRechecksRequest extends QualityRequest {
  readonly samples: SheetSource;
  /** A table with the ids of samples that were checked before. */
  readonly checked?: SheetSource;
  /** Share of the samples of each group in percent; 10 when left out. */
  readonly sharePercent?: number;
  /** What the groups are; all samples are one when left out. */
  readonly grouping?: ChoiceGrouping;
  /** 1 for the first share (when left out), 2 for the second, and so on. */
  readonly round?: number;
  /** Names of the groups to choose from; all when left out. */
  readonly only?: readonly string[];
  readonly seed?: string;
}

/**
 * Chooses at random which samples a second person checks: of every group its share, and all of a trainee's.
 *
 * @throws RequestError for a request that cannot be met, RangeError for a seed that is none, FileError
 */
export async function chooseRechecks(request: ChooseRechecksRequest): Promise<QualityRun> {
  const what = "chooseRechecks";
  checkRequest<ChooseRechecksRequest>(what, request, {
    samples: "source!",
    checked: "source",
    sharePercent: "number",
    grouping: "text",
    round: "number",
    only: "texts",
    seed: "text",
    ...QUALITY_SHAPE,
  });
  const { sharePercent = 10, round = 1, only, grouping } = request;
  if (only !== undefined && grouping === undefined)
    throw new RequestError(`${what}: "only" names groups, so it needs "grouping"`);
  if (!Number.isSafeInteger(round) || round < 1)
    throw new RequestError(`${what}: "round" must be a whole number from 1`);
  const seed = parseSeed(request.seed ?? DEFAULT_SEED);
  if (seed === undefined) throw new RangeError(`not a seed: ${request.seed}`);
  const cwd = request.cwd ?? ".";
  return chooseOfLog(
    {
      sampleLog: await openSource(request.samples, cwd),
      checked: await openOptional(request.checked, cwd),
      encoding: request.encoding,
    },
    {
      share: shareOf(what, sharePercent),
      shareText: `${numberText(sharePercent)}%`,
      grouping,
      round,
      seed,
      only,
    },
  );
}

/** A percentage as its shortest decimal says it. */
function percent(what: string, key: string, value: number): Exact {
  if (!(value >= 0 && value <= 100))
    throw new RequestError(`${what}: "${key}" must be a percentage from 0 to 100`);
  return exactOf(value);
}

function shareOf(what: string, sharePercent: number): Exact {
  if (!(sharePercent > 0 && sharePercent <= 100))
    throw new RequestError(`${what}: "sharePercent" must be a percentage above 0, 100 at most`);
  return multiply(exactOf(sharePercent), fraction(1, 100));
}

function limit(
  what: string,
  key: string,
  value: number | null | undefined,
  usual: QualityLimit,
): QualityLimit | undefined {
  if (value === undefined) return usual;
  if (value === null) return undefined;
  if (!(value >= 0 && Number.isFinite(value)))
    throw new RequestError(`${what}: "${key}" must be a number from 0, or null for none`);
  return { side: usual.side, at: exactOf(value) };
}
