import { dirname } from "node:path";
import { asFileError, FileError, systemCode } from "./file-error.ts";
import type { FileSystem } from "./file-system.ts";
import { nodeFileSystem } from "./file-system.ts";

/**
 * Checks before any work that something can be made beside the others of its folder: everything is written under
 * a temporary name first.
 *
 * @param path absolute path of what is to be made
 * @param shownAs the path as the user gave it
 * @throws FileError when its folder is missing, no folder, or not writable
 */
export async function checkFolderOf(
  path: string,
  shownAs: string,
  fileSystem: FileSystem = nodeFileSystem,
): Promise<void> {
  try {
    await fileSystem.checkCanMakeIn(dirname(path));
  } catch (error) {
    if (systemCode(error) === "ENOENT")
      throw new FileError(
        shownAs,
        `there is no folder ${dirname(shownAs)} to write it in; make it first (mkdir -p ${dirname(shownAs)}), or choose another place`,
        { cause: error },
      );
    throw asFileError(shownAs, error);
  }
}

/**
 * Checks before any work that a folder can be made.
 *
 * @param path absolute path
 * @param taken what to say when the name is taken
 * @throws FileError when the name is taken or nothing can be made there
 */
export async function checkNewFolder(
  path: string,
  shownAs: string,
  taken: string,
  fileSystem: FileSystem = nodeFileSystem,
): Promise<void> {
  let isTaken: boolean;
  try {
    isTaken = await fileSystem.isTaken(path);
  } catch (error) {
    throw asFileError(shownAs, error);
  }
  if (isTaken) throw new FileError(shownAs, taken);
  await checkFolderOf(path, shownAs, fileSystem);
}
