import { constants } from "node:fs";
import {
  access,
  chmod,
  type FileHandle,
  link,
  lstat,
  mkdir,
  open,
  readdir,
  realpath,
  rename,
  rm,
  stat,
  unlink,
} from "node:fs/promises";

/** What is known of a path: enough to decide how to read or replace it. */
export interface PathFacts {
  readonly kind: "file" | "folder" | "other";
  /** Permission bits. */
  readonly mode: number;
  readonly size: number;
}

/** An open file. */
export interface OpenFile {
  /** Writes all of the bytes. */
  write(bytes: Uint8Array): Promise<void>;
  /** Fills at most the buffer from where reading stands; 0 at the end. */
  read(buffer: Uint8Array): Promise<number>;
  /** Flushes to the device. */
  sync(): Promise<void>;
  close(): Promise<void>;
}

/**
 * Every operation on files that the program uses, in one place, so that a test can make the n-th of them fail.
 * All of them reject with the error of the system.
 */
export interface FileSystem {
  /** Follows links. */
  facts(path: string): Promise<PathFacts>;
  /** Whether the name is taken, also by a link that points nowhere. */
  isTaken(path: string): Promise<boolean>;
  checkReadable(path: string): Promise<void>;
  /** Whether entries can be made in a folder. */
  checkCanMakeIn(folder: string): Promise<void>;
  realPath(path: string): Promise<string>;
  list(folder: string): Promise<string[]>;
  openToRead(path: string): Promise<OpenFile>;
  /** For a device or a pipe, which is there already. */
  openToWrite(path: string): Promise<OpenFile>;
  /** Fails when the name is taken. */
  createFile(path: string, mode: number): Promise<OpenFile>;
  /** Fails when the name is taken. */
  createFolder(path: string): Promise<void>;
  changeMode(path: string, mode: number): Promise<void>;
  rename(from: string, to: string): Promise<void>;
  /** Gives a file another name, and never replaces one: fails with EEXIST when the name is taken, also just now. */
  renameToNew(from: string, to: string): Promise<void>;
  /** Flushes the entries of a folder; does nothing where the system cannot. */
  syncFolder(path: string): Promise<void>;
  removeFile(path: string): Promise<void>;
  removeFolder(path: string): Promise<void>;
}

/** The file system of the machine. */
export const nodeFileSystem: FileSystem = {
  async facts(path) {
    const found = await stat(path);
    return {
      kind: found.isFile() ? "file" : found.isDirectory() ? "folder" : "other",
      mode: found.mode & 0o7777,
      size: found.size,
    };
  },
  isTaken,
  checkReadable: (path) => access(path, constants.R_OK),
  checkCanMakeIn: (folder) => access(`${folder}/.`, constants.W_OK | constants.X_OK),
  realPath: (path) => realpath(path),
  list: (folder) => readdir(folder),
  openToRead: async (path) => openFile(await open(path, "r")),
  openToWrite: async (path) => openFile(await open(path, "w")),
  createFile: async (path, mode) => openFile(await open(path, "wx", mode)),
  async createFolder(path) {
    await mkdir(path);
  },
  changeMode: (path, mode) => chmod(path, mode),
  rename: (from, to) => rename(from, to),
  async renameToNew(from, to) {
    try {
      await link(from, to);
    } catch (error) {
      if (!(error instanceof Error && "code" in error && NO_LINKS.includes(error.code as string)))
        throw error;
      // The best that such a file system allows: between the look and the rename another program may come.
      if (await isTaken(to)) throw Object.assign(new Error(`${to} is taken`), { code: "EEXIST" });
      await rename(from, to);
      return;
    }
    await unlink(from);
  },
  async syncFolder(path) {
    let handle: FileHandle;
    try {
      handle = await open(path, "r");
    } catch (error) {
      // Windows cannot open a folder; its file systems order renames themselves.
      if (error instanceof Error && "code" in error && (error.code === "EISDIR" || error.code === "EPERM"))
        return;
      throw error;
    }
    try {
      await handle.sync();
    } catch (error) {
      // Some network file systems refuse to flush a folder; the rename itself has happened.
      if (!(error instanceof Error && "code" in error && (error.code === "EINVAL" || error.code === "EPERM")))
        throw error;
    } finally {
      await handle.close();
    }
  },
  removeFile: (path) => unlink(path),
  removeFolder: (path) => rm(path, { recursive: true, force: true }),
};

/** What file systems say that know no second name of a file, as those of memory cards and of some networks. */
const NO_LINKS = ["EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EMLINK", "EXDEV"];

async function isTaken(path: string): Promise<boolean> {
  try {
    await lstat(path);
    return true;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return false;
    throw error;
  }
}

function openFile(handle: FileHandle): OpenFile {
  return {
    async write(bytes) {
      for (let at = 0; at < bytes.length; ) {
        const { bytesWritten } = await handle.write(bytes, at, bytes.length - at);
        at += bytesWritten;
      }
    },
    async read(buffer) {
      const { bytesRead } = await handle.read(buffer, 0, buffer.length);
      return bytesRead;
    },
    async sync() {
      await handle.sync();
    },
    async close() {
      await handle.close();
    },
  };
}
