import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { asFileError, FileError } from "../files/file-error.ts";
import { compareCodePoints } from "../model/order.ts";
import { findSetFolder } from "../reference/find-set.ts";
import type { SharedTables } from "../reference/shared-tables.ts";
import { baseName, nameInputs } from "../runs/input-names.ts";
import type { CopiedFile } from "../runs/reference-copy.ts";
import { RUN_FILES } from "../runs/run-files.ts";
import type { RunInput, RunRecord } from "../runs/run-record.ts";
import { inRunNames } from "../runs/stored-findings.ts";
import type { LoadedBatch, SetChoices } from "./load.ts";
import type { BatchFiles } from "./load-rows.ts";
import { packageTables } from "./package-tables.ts";
import type { RunContents } from "./run-contents.ts";
import type { ScoringChoices } from "./score-batch.ts";

/**
 * The files of a batch in the order in which a run reads them: by their names without folders, so that a run is
 * the same in whatever order they were given.
 */
export function inRunOrder<Files extends BatchFiles>(files: Files): Files {
  const sheets = [...files.sheets].sort(
    (a, b) =>
      compareCodePoints(baseName(a.name), baseName(b.name)) ||
      compareCodePoints(a.sheet ?? "", b.sheet ?? "") ||
      compareCodePoints(a.name, b.name),
  );
  return { ...files, sheets };
}

/** How a batch was scored. */
export interface BatchRequest {
  /** Id of the set or path to its folder, as given. */
  readonly reference: string;
  readonly cwd: string;
  readonly choices: ScoringChoices;
  readonly setChoices: Pick<SetChoices, "attributes" | "classes">;
  /** What may depend on the clock or the machine; usually nothing. */
  readonly environment?: RunRecord["environment"] | undefined;
}

/**
 * What a run folder of a loaded batch holds.
 *
 * @throws FileError when a file of the set cannot be read again
 */
export async function runOfBatch(loaded: LoadedBatch, request: BatchRequest): Promise<RunContents> {
  const { set, read, shared, inputs } = loaded;
  if (set === undefined) throw new FileError(request.reference, "cannot be used");
  const { table, log, lab } = read.rows;
  const places = [...table.files, ...[log?.file, lab?.file].filter((file) => file !== undefined)];
  const names = nameInputs(places);
  const nameFields = new Map<number, number>();
  for (let row = 0; row < table.size; row++)
    if (!nameFields.has(table.fileNumberAt(row)))
      nameFields.set(table.fileNumberAt(row), table.nameColumnAt(row));
  const tables = packageTables();
  const given = await attributeFiles(request.setChoices.attributes ?? [], shared, request.cwd);
  return {
    rows: read.rows,
    sheetNames: names.names.slice(0, table.files.length),
    inputs: inputs.map(({ sha256, bytes, rows }, at): RunInput => {
      const known = { file: names.names[at] as string, sha256, bytes, rows };
      if (at < table.files.length)
        return { role: "bench-sheet", ...known, name_field: nameFields.get(at) ?? 0 };
      return { role: at === table.files.length && log !== undefined ? "sample-log" : "names", ...known };
    }),
    readingFindings: read.findings.map((one) => inRunNames(one, names)),
    amendments: [],
    choices: request.choices,
    setChoices: { attributes: given.words, classes: request.setChoices.classes },
    attributeFiles: given.files,
    set,
    setFolder: await findSetFolder(request.reference, { packageTables: tables, cwd: request.cwd }),
    shared,
    tables,
    rescoredFrom: null,
    environment: request.environment ?? {},
  };
}

/** Attribute files that the user gave, and the words that name them in the run. */
export async function attributeFiles(
  words: readonly string[],
  shared: SharedTables,
  cwd: string,
): Promise<{ readonly words: readonly string[]; readonly files: readonly CopiedFile[] }> {
  const paths = words.filter((word) => !shared.schemes.has(word));
  const { names } = nameInputs(paths);
  const files: CopiedFile[] = [];
  const stored = new Map<string, string>();
  for (const [at, path] of paths.entries()) {
    const place = `${RUN_FILES.reference}/given/${names[at]}`;
    stored.set(path, place);
    try {
      files.push({ path: place, bytes: await readFile(resolve(cwd, path)) });
    } catch (error) {
      throw asFileError(path, error);
    }
  }
  return { words: words.map((word) => stored.get(word) ?? word), files };
}
