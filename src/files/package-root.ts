import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { FileError } from "./file-error.ts";

let found: string | undefined;

/**
 * The folder of the installed package: the nearest folder above the running code that holds
 * `reference-tables`. The same for the built program, the library and the tests.
 *
 * @throws FileError when there is none: the installation is incomplete
 */
export function packageRoot(): string {
  found ??= rootAbove(import.meta.dirname);
  return found;
}

function rootAbove(start: string): string {
  for (let folder = start; ; folder = dirname(folder)) {
    if (existsSync(join(folder, "reference-tables"))) return folder;
    if (dirname(folder) === folder)
      throw new FileError("reference-tables", "not found beside the program; install the package again");
  }
}
