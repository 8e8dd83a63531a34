import { FileError } from "../files/file-error.ts";
import type { Attribute, AttributeScheme, AttributeTable, AttributeValue } from "../model/attributes.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import { LIFE_STAGES } from "../model/life-stage.ts";
import type { TaxonRow } from "../model/taxon-tree.ts";
import { RANKS, TaxonTree } from "../model/taxon-tree.ts";
import type { StageRule } from "../names/count-policy.ts";
import type { SynonymRow } from "../names/synonyms.ts";
import { SYNONYM_KINDS } from "../names/synonyms.ts";
import type { SharedDigests } from "./shared-files.ts";
import { SharedFiles } from "./shared-files.ts";
import { oneOf, optionalNumber } from "./table-cells.ts";

/** A document that values or names come from. */
export interface Source {
  readonly id: string;
  readonly citation: string;
  readonly year: string;
  readonly url: string;
  readonly licence: string;
  /** What was read of it, in words. */
  readonly howSeen: string;
}

/** The tables that every set may use: taxa, names, stages, attributes, sources. */
export interface SharedTables {
  readonly tree: TaxonTree;
  readonly synonyms: readonly SynonymRow[];
  readonly stageRules: readonly StageRule[];
  readonly schemes: ReadonlyMap<string, AttributeScheme>;
  readonly sources: ReadonlyMap<string, Source>;
  /** SHA-256 by path below the folder of the tables ("taxa/taxa.csv"). */
  readonly digests: SharedDigests;
  /**
   * The values of a scheme; read when first asked for.
   *
   * @throws RangeError for a scheme that is not there, FileError when its table cannot be read
   */
  loadAttribute(scheme: string): AttributeTable;
  /** Path of a scheme's table below the folder of the tables. */
  fileOf(scheme: string): string | undefined;
}

export const TAXA_FILE = "taxa/taxa.csv";
export const SYNONYMS_FILE = "taxa/synonyms.csv";
export const LIFE_STAGES_FILE = "taxa/life-stages.csv";
export const SCHEMES_FILE = "attributes/schemes.csv";
export const SCORE_AS_FILE = "attributes/score-as.csv";
export const SOURCES_FILE = "sources.csv";

const POLICIES = ["", "count", "exclude", "release"] as const;

/**
 * Reads the shared tables. Tree, synonyms and life stages are read at once; attribute tables and sources when
 * they are first asked for.
 *
 * @param folder the package's `reference-tables` or one laid out like it
 * @throws FileError with the line in its reason when a table is missing or cannot be used
 */
export function loadSharedTables(folder: string): SharedTables {
  const files = new SharedFiles(folder);
  const attributes = new Map<string, AttributeTable>();
  let schemes: ReadonlyMap<string, SchemeRow> | undefined;
  let sources: ReadonlyMap<string, Source> | undefined;
  let scoreAs: ReadonlyMap<string, ReadonlyMap<string, string>> | undefined;
  const schemeRows = () => {
    schemes ??= readSchemes(files);
    return schemes;
  };
  return {
    tree: readTree(files),
    synonyms: readSynonyms(files),
    stageRules: readStageRules(files),
    digests: files,
    get schemes() {
      return schemeRows();
    },
    get sources() {
      sources ??= readSources(files);
      return sources;
    },
    fileOf: (scheme) => schemeRows().get(scheme)?.file,
    loadAttribute(id) {
      const known = attributes.get(id);
      if (known !== undefined) return known;
      const scheme = schemeRows().get(id);
      if (scheme === undefined) throw new RangeError(`there is no attribute scheme "${id}"`);
      scoreAs ??= readScoreAs(files);
      const table = {
        scheme,
        values: readValues(files, scheme.file),
        scoreAs: scoreAs.get(id) ?? new Map<string, string>(),
      };
      attributes.set(id, table);
      return table;
    },
  };
}

/** The tables of a folder that hold taxa, as the tree and its neighbours. */
function readTree(files: SharedFiles): TaxonTree {
  const file = files.pathOf(TAXA_FILE);
  const columns = ["taxon", "rank", "parent", "status", "count_policy", "count_reason", "common_group"];
  const rows = files.rows(TAXA_FILE, columns).map(({ line, cells }): TaxonRow => {
    const [taxon = "", rank = "", parent = "", status = "", policy = "", reason = "", group = ""] = cells;
    const decided = oneOf(policy, POLICIES, file, line);
    return {
      taxon,
      rank: oneOf(rank, RANKS, file, line),
      parent,
      status,
      policy: decided === "" ? undefined : decided,
      policyReason: reason,
      commonGroup: group,
    };
  });
  try {
    return TaxonTree.fromRows(rows);
  } catch (error) {
    if (error instanceof RangeError) throw new FileError(file, error.message);
    throw error;
  }
}

function readSynonyms(files: SharedFiles): SynonymRow[] {
  const file = files.pathOf(SYNONYMS_FILE);
  const columns = ["name", "accepted_name", "kind", "candidates", "reason"];
  return files.rows(SYNONYMS_FILE, columns).map(({ line, cells }) => {
    const [name = "", accepted = "", kind = "", candidates = "", reason = ""] = cells;
    return {
      name,
      accepted,
      kind: oneOf(kind, SYNONYM_KINDS, file, line),
      candidates: candidates === "" ? [] : candidates.split("|"),
      reason,
    };
  });
}

function readStageRules(files: SharedFiles): StageRule[] {
  const file = files.pathOf(LIFE_STAGES_FILE);
  const columns = ["taxon", "life_stage", "count_policy", "count_reason"];
  return files.rows(LIFE_STAGES_FILE, columns).map(({ line, cells }) => {
    const [taxon = "", stage = "", policy = "", reason = ""] = cells;
    return {
      taxon,
      stage: oneOf(stage, LIFE_STAGES, file, line),
      policy: oneOf(policy, ["count", "exclude", "release"], file, line),
      reason,
    };
  });
}

interface SchemeRow extends AttributeScheme {
  /** Path below the folder of the tables. */
  readonly file: string;
}

function readSchemes(files: SharedFiles): Map<string, SchemeRow> {
  const file = files.pathOf(SCHEMES_FILE);
  const columns = [
    "scheme",
    "attribute",
    "level",
    "min",
    "max",
    "direction",
    "region",
    "source_id",
    "file",
    "note",
  ];
  const schemes = new Map<string, SchemeRow>();
  for (const { line, cells } of files.rows(SCHEMES_FILE, columns)) {
    const [scheme = "", attribute = "", level = "", min = "", max = "", direction = "", ...rest] = cells;
    const [region = "", sourceId = "", table = "", note = ""] = rest;
    schemes.set(scheme, {
      scheme,
      attribute: oneOf<Attribute>(attribute, ATTRIBUTES, file, line),
      level,
      min: optionalNumber(min, file, line),
      max: optionalNumber(max, file, line),
      direction: oneOf(direction, ["", "higher-is-tolerant", "higher-is-sensitive"], file, line),
      region,
      sourceId,
      note,
      file: `attributes/${table}`,
    });
  }
  return schemes;
}

function readValues(files: SharedFiles, path: string): Map<string, AttributeValue> {
  const file = files.pathOf(path);
  const values = new Map<string, AttributeValue>();
  for (const { line, cells } of files.rows(path, ["taxon", "value", "source_id", "verified"])) {
    const [taxon = "", text = "", sourceId = "", verified = ""] = cells;
    if (values.has(taxon)) throw new FileError(file, `line ${line}: ${taxon} has a value already`);
    values.set(taxon, { text, sourceId, verified: oneOf(verified, ["seen", "memory"], file, line) });
  }
  return values;
}

function readScoreAs(files: SharedFiles): Map<string, Map<string, string>> {
  const byScheme = new Map<string, Map<string, string>>();
  for (const { cells } of files.rows(SCORE_AS_FILE, ["scheme", "taxon", "score_as"])) {
    const [scheme = "", taxon = "", scored = ""] = cells;
    const pairs = byScheme.get(scheme) ?? new Map<string, string>();
    byScheme.set(scheme, pairs.set(taxon, scored));
  }
  return byScheme;
}

function readSources(files: SharedFiles): Map<string, Source> {
  const columns = ["source_id", "citation", "year", "url", "licence_or_status", "how_seen"];
  const sources = new Map<string, Source>();
  for (const { cells } of files.rows(SOURCES_FILE, columns)) {
    const [id = "", citation = "", year = "", url = "", licence = "", howSeen = ""] = cells;
    sources.set(id, { id, citation, year, url, licence, howSeen });
  }
  return sources;
}
