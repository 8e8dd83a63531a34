import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { asFileError, systemCode } from "../files/file-error.ts";

/** The folder of a reference set. */
export interface SetFolder {
  /** Where it lies. */
  readonly path: string;
  /** How findings and messages name it: as the user gave it, or by its place in the package. */
  readonly shownAs: string;
}

/** A file of a set folder in memory. */
export interface SetFile {
  readonly bytes: Uint8Array;
  /** How findings name it. */
  readonly shownAs: string;
}

/**
 * Reads one file of a set folder.
 *
 * @throws FileError when it cannot be read
 */
export async function readSetFile(folder: SetFolder, name: string): Promise<SetFile> {
  const shownAs = shownPath(folder, name);
  try {
    return { bytes: await readFile(join(folder.path, name)), shownAs };
  } catch (error) {
    throw asFileError(shownAs, error);
  }
}

/** Reads a file that a set folder need not have. */
export async function readOptionalSetFile(folder: SetFolder, name: string): Promise<SetFile | undefined> {
  try {
    return await readSetFile(folder, name);
  } catch (error) {
    if (error instanceof Error && systemCode(error.cause) === "ENOENT") return undefined;
    throw error;
  }
}

/** How findings name a file of a set folder. */
export function shownPath(folder: SetFolder, name: string): string {
  return `${folder.shownAs.replace(/(?<![\\/])[\\/]+$/, "")}/${name}`;
}
