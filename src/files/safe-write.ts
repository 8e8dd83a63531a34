import { basename, dirname, join } from "node:path";
import { asFileError, FileError, systemCode } from "./file-error.ts";
import { FileSink } from "./file-sink.ts";
import type { FileSystem, PathFacts } from "./file-system.ts";
import { nodeFileSystem } from "./file-system.ts";
import type { TextSink } from "./formats/define.ts";
import { checkNewFolder } from "./output-place.ts";
import { endPending, startPending } from "./pending-writes.ts";

/** How a file is written. */
export interface WriteOptions {
  /** Replace a file that is there already. */
  readonly force: boolean;
  /** The path as the user gave it, for messages; the path itself when left out. */
  readonly shownAs?: string | undefined;
  readonly fileSystem?: FileSystem | undefined;
}

const NEW_FILE_MODE = 0o666;

/**
 * Writes a file whole or not at all: into a temporary file beside it that is flushed to the device and then
 * renamed, so that after a crash there is the old file or the new one and never a part. Of programs that write the
 * same new file at the same time one wins, and the others are told that it exists. Mode and link of a file that is
 * replaced are kept. A device or a pipe (/dev/stdout) is written directly and never replaced.
 *
 * @param path absolute path
 * @param produce writes the text; when it throws, nothing has changed
 * @throws FileError when the file exists and may not be replaced, or cannot be written
 */
export async function writeWhole(
  path: string,
  options: WriteOptions,
  produce: (sink: TextSink) => Promise<void>,
): Promise<void> {
  const fileSystem = options.fileSystem ?? nodeFileSystem;
  const shown = options.shownAs ?? path;
  try {
    const old = await factsOf(path, fileSystem);
    if (old?.kind === "folder") throw new FileError(shown, "is a directory");
    if (old?.kind === "other") return await writeDirectly(path, produce, fileSystem);
    if (!options.force && (old !== undefined || (await fileSystem.isTaken(path))))
      throw new FileError(shown, "exists already; use --force to overwrite it");
    const target = old === undefined ? path : await fileSystem.realPath(path);
    await writeBeside(target, old, options.force, produce, fileSystem, shown);
  } catch (error) {
    throw asFileError(shown, error);
  }
}

/**
 * Writes a folder whole or not at all: under a temporary name beside its place, every file in it flushed, then
 * renamed. A folder that is there already is never touched.
 *
 * @param path absolute path
 * @param produce fills the folder whose path it gets; when it throws, nothing has changed
 * @throws FileError when the folder exists or cannot be written
 */
export async function writeFolderWhole(
  path: string,
  produce: (folder: string) => Promise<void>,
  options: { readonly shownAs?: string | undefined; readonly fileSystem?: FileSystem | undefined } = {},
): Promise<void> {
  const fileSystem = options.fileSystem ?? nodeFileSystem;
  const shown = options.shownAs ?? path;
  try {
    await checkNewFolder(path, shown, "exists already; choose another folder", fileSystem);
    const temporary = await temporaryBeside(path, (name) => fileSystem.createFolder(name));
    startPending(temporary.path);
    try {
      await produce(temporary.path);
      await syncTree(temporary.path, fileSystem);
      // A rename would replace an empty folder that came in the meantime.
      if (await fileSystem.isTaken(path)) throw new FileError(shown, "exists already; choose another folder");
      await fileSystem.rename(temporary.path, path);
    } catch (error) {
      await quietly(() => fileSystem.removeFolder(temporary.path));
      throw error;
    } finally {
      endPending(temporary.path);
    }
    await fileSystem.syncFolder(dirname(path));
  } catch (error) {
    throw asFileError(shown, error);
  }
}

async function factsOf(path: string, fileSystem: FileSystem): Promise<PathFacts | undefined> {
  try {
    return await fileSystem.facts(path);
  } catch (error) {
    if (systemCode(error) === "ENOENT") return undefined;
    throw error;
  }
}

async function writeDirectly(
  path: string,
  produce: (sink: TextSink) => Promise<void>,
  fileSystem: FileSystem,
): Promise<void> {
  const file = await fileSystem.openToWrite(path);
  try {
    const sink = new FileSink(file);
    await produce(sink);
    await sink.flush();
  } finally {
    await file.close();
  }
}

async function writeBeside(
  target: string,
  old: PathFacts | undefined,
  force: boolean,
  produce: (sink: TextSink) => Promise<void>,
  fileSystem: FileSystem,
  shown: string,
): Promise<void> {
  const temporary = await temporaryBeside(target, (name) =>
    fileSystem.createFile(name, old === undefined ? NEW_FILE_MODE : old.mode & 0o777),
  );
  startPending(temporary.path);
  try {
    try {
      const sink = new FileSink(temporary.made, true);
      await produce(sink);
      await sink.flush();
      await temporary.made.sync();
    } finally {
      await temporary.made.close();
    }
    // The mode asked for at creation is cut by the umask of the user.
    if (old !== undefined) await fileSystem.changeMode(temporary.path, old.mode);
    if (force) await fileSystem.rename(temporary.path, target);
    else await fileSystem.renameToNew(temporary.path, target);
  } catch (error) {
    await quietly(() => fileSystem.removeFile(temporary.path));
    if (!force && systemCode(error) === "EEXIST")
      throw new FileError(shown, "exists already; use --force to overwrite it", { cause: error });
    throw error;
  } finally {
    endPending(temporary.path);
  }
  await fileSystem.syncFolder(dirname(target));
}

/** Makes a hidden neighbour whose name says what it is; what an earlier crash left behind does not get in its way. */
async function temporaryBeside<Made>(
  target: string,
  make: (path: string) => Promise<Made>,
): Promise<{ readonly path: string; readonly made: Made }> {
  for (let number = 1; ; number++) {
    const path = join(
      dirname(target),
      `.${basename(target).slice(0, 200)}.${process.pid}-${number}.jartally-tmp`,
    );
    try {
      return { path, made: await make(path) };
    } catch (error) {
      if (systemCode(error) !== "EEXIST" || number >= 10_000) throw error;
    }
  }
}

/** Flushes every file and folder below a folder. */
async function syncTree(folder: string, fileSystem: FileSystem): Promise<void> {
  for (const name of (await fileSystem.list(folder)).sort()) {
    const path = join(folder, name);
    if ((await fileSystem.facts(path)).kind === "folder") {
      await syncTree(path, fileSystem);
      continue;
    }
    const file = await fileSystem.openToRead(path);
    try {
      await file.sync();
    } finally {
      await file.close();
    }
  }
  await fileSystem.syncFolder(folder);
}

/** Tries to tidy up on the way out of an error, which is the one to tell. */
async function quietly(tidy: () => Promise<void>): Promise<void> {
  try {
    await tidy();
  } catch {
    // What is left has a name that says what it is.
  }
}
