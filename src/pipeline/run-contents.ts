import type { Finding } from "../findings/finding.ts";
import { at } from "../model/at.ts";
import { NORMALISATION } from "../names/normalise.ts";
import type { SetFolder } from "../reference/folder.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { SharedTables } from "../reference/shared-tables.ts";
import type { CopiedFile } from "../runs/reference-copy.ts";
import type { RunInput, RunRecord } from "../runs/run-record.ts";
import { RUN_SCHEMA } from "../runs/run-record.ts";
import type { ResamplingPlan } from "../scoring/intervals/plan.ts";
import type { Amendment } from "../sheets/amendment.ts";
import { INDIVIDUAL_ALGORITHMS } from "../subsample/algorithms.ts";
import { RESAMPLE_ALGORITHMS } from "../subsample/resample/algorithms.ts";
import type { BatchRows } from "./load-rows.ts";
import type { ScoringChoices } from "./score-batch.ts";

/** Everything that goes into a run folder; the results follow from it. */
export interface RunContents {
  /** As read, before any correction. */
  readonly rows: BatchRows;
  /** Names of the bench sheets in the run, by the number of the file in the table. */
  readonly sheetNames: readonly string[];
  readonly inputs: readonly RunInput[];
  /** Findings of reading the files, with the run's names for them. */
  readonly readingFindings: readonly Finding[];
  readonly amendments: readonly Amendment[];
  readonly choices: ScoringChoices;
  readonly setChoices: {
    /** Words of the run: ids of schemes, and paths below the run folder. */
    readonly attributes: readonly string[];
    readonly classes: string | undefined;
  };
  /** Attribute files that the user gave. */
  readonly attributeFiles: readonly CopiedFile[];
  readonly set: ReferenceSet;
  readonly setFolder: SetFolder;
  readonly shared: SharedTables;
  /** The folder the shared tables were read from. */
  readonly tables: string;
  readonly rescoredFrom: RunRecord["rescored_from"];
  readonly environment: RunRecord["environment"];
}

/** run.json of a run. */
export function recordOf(contents: RunContents, logFields: RunRecord["sample_log_fields"]): RunRecord {
  const { set, choices, setChoices } = contents;
  const { id, version, title, verification } = set.definition;
  return {
    $schema: "./run.schema.json",
    schema: RUN_SCHEMA,
    tool: { name: "jartally", version: JARTALLY_VERSION },
    algorithms: { draw: choices.algorithm ?? newestDraw(), name_key: NORMALISATION },
    options: {
      seed: choices.seed,
      target: choices.target === undefined ? "set" : (choices.target ?? "none"),
      stratum: choices.stratum ?? null,
      attributes: [...setChoices.attributes],
      classes: setChoices.classes ?? null,
      ...(choices.resampling === undefined ? {} : { resampling: storedPlan(choices.resampling) }),
    },
    reference: { id, version, hash: set.hash, title, verification },
    inputs: [...contents.inputs],
    sample_log_fields: logFields,
    has_names: contents.rows.lab !== undefined,
    rescored_from: contents.rescoredFrom,
    environment: contents.environment,
  };
}

/** The choices that a run was made with, its version of the draw included. */
export function choicesOf({ options, algorithms }: RunRecord): ScoringChoices {
  return {
    seed: options.seed,
    target: options.target === "set" ? undefined : options.target === "none" ? null : options.target,
    stratum: options.stratum ?? undefined,
    algorithm: algorithms.draw,
    resampling: options.resampling && planOf(options.resampling),
  };
}

type StoredPlan = NonNullable<RunRecord["options"]["resampling"]>;

function storedPlan({ supportLimit, ...plan }: ResamplingPlan): StoredPlan {
  const algorithms = Object.values(RESAMPLE_ALGORITHMS).map((one) => one.id);
  return { ...plan, support_limit: supportLimit ?? null, algorithms };
}

function planOf({ support_limit, algorithms: _, ...plan }: StoredPlan): ResamplingPlan {
  return { ...plan, supportLimit: support_limit ?? undefined };
}

/** The version of the draw that new runs get. */
export function newestDraw(): string {
  return at(INDIVIDUAL_ALGORITHMS, INDIVIDUAL_ALGORITHMS.length - 1).id;
}
