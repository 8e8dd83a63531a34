import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { sha256 } from "../files/digest.ts";
import { asFileError, FileError } from "../files/file-error.ts";
import type { SetFolder } from "../reference/folder.ts";
import { readOptionalSetFile, readSetFile } from "../reference/folder.ts";
import type { ReferenceSet } from "../reference/set.ts";
import type { SharedTables } from "../reference/shared-tables.ts";
import {
  LIFE_STAGES_FILE,
  SCHEMES_FILE,
  SCORE_AS_FILE,
  SOURCES_FILE,
  SYNONYMS_FILE,
  TAXA_FILE,
} from "../reference/shared-tables.ts";
import { RUN_FILES } from "./run-files.ts";

/** A file of the copy: path below the run, and its bytes. */
export interface CopiedFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** Where the set of a run lies below the run's folder. */
export function storedSetPath(id: string): string {
  return `${RUN_FILES.reference}/sets/${id}`;
}

/**
 * Everything a set uses, as files laid out like the package's own tables, so that a run needs nothing else: the
 * set, the tree, other names, life stages, sources, and the attribute tables it reads.
 *
 * @param tables the folder the shared tables were read from
 * @throws FileError when a file cannot be read, or changed since the tables were read
 */
export async function copyReference(
  set: ReferenceSet,
  setFolder: SetFolder,
  shared: SharedTables,
  tables: string,
): Promise<CopiedFile[]> {
  const own = storedSetPath(set.definition.id);
  const files: CopiedFile[] = [];
  for (const name of ["set.json", "thresholds.csv"])
    files.push({ path: `${own}/${name}`, bytes: (await readSetFile(setFolder, name)).bytes });
  const taxa = await readOptionalSetFile(setFolder, "taxa.csv");
  if (taxa !== undefined) files.push({ path: `${own}/taxa.csv`, bytes: taxa.bytes });
  const schemes = schemesOf(set).flatMap((scheme) => shared.fileOf(scheme) ?? []);
  const paths = [TAXA_FILE, SYNONYMS_FILE, LIFE_STAGES_FILE, SOURCES_FILE, SCHEMES_FILE, SCORE_AS_FILE];
  for (const path of new Set([...paths, ...schemes])) {
    const bytes = await readShared(tables, path);
    const known = shared.digests.get(path);
    if (known !== undefined && known !== sha256(bytes))
      throw new FileError(join(tables, path), "changed while it was being used");
    files.push({ path: `${RUN_FILES.reference}/${path}`, bytes });
  }
  return files;
}

/** Schemes that set.json names, and those that were put in their place. */
function schemesOf({ definition, attributes }: ReferenceSet): string[] {
  const named = Object.values(definition.attributes).flatMap((choice) =>
    "scheme" in choice ? [choice.scheme] : [],
  );
  return [...named, ...[...attributes.values()].map((table) => table.scheme.scheme)];
}

async function readShared(tables: string, path: string): Promise<Uint8Array> {
  try {
    return await readFile(join(tables, path));
  } catch (error) {
    throw asFileError(join(tables, path), error);
  }
}
