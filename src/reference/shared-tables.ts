import type { AttributeScheme, AttributeTable } from "../model/attributes.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import type { StageRule } from "../names/count-policy.ts";
import type { SynonymRow } from "../names/synonyms.ts";
import { readSchemes, readScoreAs, readValues } from "./shared-attributes.ts";
import type { SharedDigests } from "./shared-files.ts";
import { SharedFiles } from "./shared-files.ts";
import type { Source } from "./shared-sources.ts";
import { readSources } from "./shared-sources.ts";
import { readStageRules, readSynonyms, readTree } from "./shared-taxa.ts";

export { SCHEMES_FILE, SCORE_AS_FILE } from "./shared-attributes.ts";
export { SOURCES_FILE } from "./shared-sources.ts";
export { LIFE_STAGES_FILE, SYNONYMS_FILE, TAXA_FILE } from "./shared-taxa.ts";

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
  /** Path of a scheme's table below the folder of the tables; undefined for a scheme that is not there. */
  fileOf(scheme: string): string | undefined;
}

/**
 * The shared tables of a folder. Each is read when it is first asked for, and once: a command that only lists
 * sets does not wait for the tree.
 *
 * @param folder the package's `reference-tables` or one laid out like it
 * @returns tables whose members throw FileError, with the line in its reason, when a table is missing or cannot
 *   be used
 */
export function loadSharedTables(folder: string): SharedTables {
  return new LazyTables(new SharedFiles(folder));
}

class LazyTables implements SharedTables {
  readonly digests: SharedFiles;
  readonly #attributes = new Map<string, AttributeTable>();
  #tree: TaxonTree | undefined;
  #synonyms: readonly SynonymRow[] | undefined;
  #stageRules: readonly StageRule[] | undefined;
  #schemes: ReturnType<typeof readSchemes> | undefined;
  #scoreAs: ReturnType<typeof readScoreAs> | undefined;
  #sources: ReadonlyMap<string, Source> | undefined;

  constructor(files: SharedFiles) {
    this.digests = files;
  }

  get tree(): TaxonTree {
    this.#tree ??= readTree(this.digests);
    return this.#tree;
  }

  get synonyms(): readonly SynonymRow[] {
    this.#synonyms ??= readSynonyms(this.digests);
    return this.#synonyms;
  }

  get stageRules(): readonly StageRule[] {
    this.#stageRules ??= readStageRules(this.digests);
    return this.#stageRules;
  }

  get schemes(): ReturnType<typeof readSchemes> {
    this.#schemes ??= readSchemes(this.digests);
    return this.#schemes;
  }

  get sources(): ReadonlyMap<string, Source> {
    this.#sources ??= readSources(this.digests);
    return this.#sources;
  }

  fileOf(scheme: string): string | undefined {
    return this.schemes.get(scheme)?.file;
  }

  loadAttribute(id: string): AttributeTable {
    const known = this.#attributes.get(id);
    if (known !== undefined) return known;
    const scheme = this.schemes.get(id);
    if (scheme === undefined) throw new RangeError(`there is no attribute scheme "${id}"`);
    this.#scoreAs ??= readScoreAs(this.digests);
    const scoreAs = this.#scoreAs.get(id) ?? new Map<string, string>();
    const table = { scheme, values: readValues(this.digests, scheme.file), scoreAs };
    this.#attributes.set(id, table);
    return table;
  }
}
