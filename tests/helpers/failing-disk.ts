import type * as FileFunctions from "node:fs/promises";
import { basename } from "node:path";

/** The disk of one run: which operation fails, and what was seen of it. */
export interface FailingDisk {
  /** The operation that fails, counted from 1; 0 when none does. */
  failAt: number;
  /** What the system says then, for instance "ENOSPC". */
  code: string;
  /** Operations so far. */
  count: number;
  /** The path whose operation failed, and what was asked of it. */
  failed: { readonly path: string; readonly operation: string } | undefined;
}

export function newDisk(): FailingDisk {
  return { failAt: 0, code: "EIO", count: 0, failed: undefined };
}

const COUNTED = [
  "access",
  "chmod",
  "link",
  "lstat",
  "mkdir",
  "readFile",
  "readdir",
  "realpath",
  "rename",
  "rm",
  "stat",
  "unlink",
  "writeFile",
] as const;

type Operation = (...words: unknown[]) => Promise<unknown>;

/**
 * The file functions of Node with every operation counted; the n-th fails as the system would fail it. It lies
 * below everything the program does with files, so that a part that went past the common road is met too.
 */
export function failingFunctions(real: typeof FileFunctions, disk: FailingDisk): typeof FileFunctions {
  const step = (path: string, operation: string, hasPath: boolean) => {
    disk.count++;
    if (disk.count !== disk.failAt) return;
    disk.failed = { path, operation };
    const place = hasPath ? ` '${path}'` : "";
    throw Object.assign(new Error(`${disk.code}: made to fail, ${operation}${place}`), {
      code: disk.code,
      syscall: operation,
      ...(hasPath ? { path } : {}),
    });
  };
  const functions: Record<string, unknown> = { ...real };
  for (const name of COUNTED) {
    const operation = real[name] as unknown as Operation;
    functions[name] = async (...words: unknown[]) => {
      step(String(words[0]), name, true);
      return operation(...words);
    };
  }
  functions.open = async (...words: Parameters<typeof real.open>) => {
    const path = String(words[0]);
    step(path, "open", true);
    return wrapHandle(await real.open(...words), path, step);
  };
  return { ...functions, default: real } as unknown as typeof FileFunctions;
}

function wrapHandle(
  handle: FileFunctions.FileHandle,
  path: string,
  step: (path: string, operation: string, hasPath: boolean) => void,
): FileFunctions.FileHandle {
  return new Proxy(handle, {
    get(target, name) {
      const member: unknown = Reflect.get(target, name);
      if (typeof member !== "function") return member;
      const operation = member.bind(target) as Operation;
      if (name === "close")
        return async () => {
          await operation();
          step(path, "close", false);
        };
      if (!["read", "write", "sync", "datasync", "stat", "truncate"].includes(String(name))) return operation;
      return async (...words: unknown[]) => {
        step(path, String(name), false);
        return operation(...words);
      };
    },
  });
}

/** The name a user would know a path by: that of the output, where a temporary file of it or in it is meant. */
export function knownName(path: string): string {
  return /\/\.([^/]+)\.\d+-\d+\.jartally-tmp(\/|$)/.exec(path)?.[1] ?? basename(path);
}
