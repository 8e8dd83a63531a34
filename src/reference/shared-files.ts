import { readFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../files/digest.ts";
import { asFileError, FileError } from "../files/file-error.ts";
import type { PackageTable } from "./package-table.ts";
import { readPackageTable } from "./package-table.ts";

/** SHA-256 of the files of the shared tables, by path below their folder; a file is hashed when it is asked for. */
export interface SharedDigests {
  /** Undefined for a path that is no file of the tables. */
  get(path: string): string | undefined;
}

/** The files of a folder of shared tables, each read once. */
export class SharedFiles implements SharedDigests {
  readonly #folder: string;
  readonly #bytes = new Map<string, Buffer>();
  readonly #digests = new Map<string, string>();

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Where a file is, for messages. */
  pathOf(path: string): string {
    return join(this.#folder, path);
  }

  /**
   * A table with the columns named.
   *
   * @param path below the folder, with forward slashes
   * @throws FileError when it cannot be read
   */
  table(path: string, columns: readonly string[]): PackageTable {
    const file = this.pathOf(path);
    let text: string;
    try {
      text = new TextDecoder("utf-8", { fatal: true }).decode(this.#read(path));
    } catch (error) {
      if (error instanceof TypeError) throw new FileError(file, "is not UTF-8 text");
      throw error;
    }
    return readPackageTable(file, text, columns);
  }

  get(path: string): string | undefined {
    const known = this.#digests.get(path);
    if (known !== undefined) return known;
    try {
      const digest = sha256(this.#read(path));
      this.#digests.set(path, digest);
      return digest;
    } catch (error) {
      if (error instanceof FileError) return undefined;
      throw error;
    }
  }

  #read(path: string): Buffer {
    const known = this.#bytes.get(path);
    if (known !== undefined) return known;
    try {
      const bytes = readFileSync(this.pathOf(path));
      this.#bytes.set(path, bytes);
      return bytes;
    } catch (error) {
      throw asFileError(this.pathOf(path), error);
    }
  }
}
