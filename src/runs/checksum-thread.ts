import { existsSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { FileError } from "../files/file-error.ts";
import { programThreadFile, startThread } from "../files/program-thread.ts";
import type { Checksums } from "./checksums.ts";
import { hashFolder } from "./checksums.ts";
import { RUN_FILES } from "./run-files.ts";

/** Rows of a run below which it is hashed before a thread has started. */
const WORTH_A_THREAD_BYTES = 1 << 24;

/** What goes to the thread. */
export interface HashRequest {
  readonly folder: string;
  readonly shownAs: string;
}

/** What comes back from it. */
export type HashAnswer =
  | { readonly checksums: Checksums }
  | { readonly unreadable: { readonly path: string; readonly reason: string } };

/**
 * Hashes a run folder as `hashFolder` does, a large one in a thread of its own: the rows of a run can be read
 * meanwhile. Where no other thread may be used, or the program runs from its sources, this thread does it.
 *
 * @param threads the most that may be used, this one included
 * @param file what the thread runs
 * @throws FileError when a file cannot be read
 */
export async function hashFolderBeside(
  { folder, shownAs }: HashRequest,
  threads = availableParallelism(),
  file = programThreadFile(),
): Promise<Checksums> {
  if (threads < 2 || !existsSync(file) || sizeOfRows(folder) < WORTH_A_THREAD_BYTES)
    return hashFolder(folder, shownAs);
  const answer = await new Promise<HashAnswer>((resolve, reject) => {
    const request: HashRequest = { folder, shownAs };
    const worker = startThread("hash", file, request);
    worker.once("message", resolve);
    worker.once("error", reject);
    worker.once("exit", () => reject(new Error("the thread that hashes ended without an answer")));
  });
  if ("checksums" in answer) return answer.checksums;
  const { path, reason } = answer.unreadable;
  throw new FileError(path, reason);
}

function sizeOfRows(folder: string): number {
  try {
    return statSync(join(folder, RUN_FILES.rows)).size;
  } catch {
    return 0;
  }
}
