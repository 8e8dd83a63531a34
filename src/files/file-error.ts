/**
 * A file could not be read or written: missing, not permitted, already there, disk full. The command line
 * ends with exit code 4 on it. Faults in what a file says are findings, never this error.
 */
export class FileError extends Error {
  /** The file as the user named it. */
  readonly path: string;
  /** What is wrong with it, in words. */
  readonly reason: string;

  constructor(path: string, reason: string, options?: { readonly cause?: unknown }) {
    super(`${path}: ${reason}`, options);
    this.name = "FileError";
    this.path = path;
    this.reason = reason;
  }
}

const REASONS: ReadonlyMap<string, string> = new Map([
  ["ENOENT", "no such file or folder"],
  ["EACCES", "permission denied"],
  ["EPERM", "operation not permitted"],
  ["EISDIR", "is a directory"],
  ["ENOTDIR", "a part of the path is not a directory"],
  ["EEXIST", "already exists"],
  ["ENOTEMPTY", "already exists and is not empty"],
  ["ENOSPC", "no space left on the device"],
  ["EDQUOT", "disk quota exceeded"],
  ["EROFS", "the file system is read-only"],
  ["EIO", "the device reports a read or write error"],
  ["EMFILE", "too many open files"],
  ["ENFILE", "too many open files on this machine"],
  ["ENAMETOOLONG", "the name is too long"],
  ["ELOOP", "too many symbolic links"],
  ["EBUSY", "the file is in use"],
  ["ETXTBSY", "the file is in use"],
  ["EXDEV", "cannot be renamed across file systems"],
  ["EBADF", "the file is closed"],
  ["ENXIO", "no such device"],
  ["ENODEV", "no such device"],
  ["EFBIG", "the file is too large"],
]);

/** The code of a system error ("ENOENT"), or undefined when it is no system error. */
export function systemCode(error: unknown): string | undefined {
  if (!(error instanceof Error) || !("code" in error) || typeof error.code !== "string") return undefined;
  return /^E[A-Z0-9]+$/.test(error.code) ? error.code : undefined;
}

/**
 * Turns an error of the system into a FileError with the reason in words. An error that is none of the
 * system's is given back as it is: it is a bug and must not be dressed up as the user's file.
 */
export function asFileError(path: string, error: unknown): unknown {
  if (error instanceof FileError) return error;
  const code = systemCode(error);
  if (code === undefined) return error;
  return new FileError(path, REASONS.get(code) ?? code, { cause: error });
}
