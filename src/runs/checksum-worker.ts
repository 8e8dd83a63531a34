import { parentPort, workerData } from "node:worker_threads";
import { FileError } from "../files/file-error.ts";
import type { HashAnswer, HashRequest } from "./checksum-thread.ts";
import { hashFolder } from "./checksums.ts";

// A thread that hashes one folder: a path in, checksums out.
const { folder, shownAs } = workerData as HashRequest;
const answer = await hashFolder(folder, shownAs).then(
  (checksums): HashAnswer => ({ checksums }),
  // An error loses its class on the way, so what is needed to make it again goes by itself.
  (error: unknown): HashAnswer => {
    if (!(error instanceof FileError)) throw error;
    return { unreadable: { path: error.path, reason: error.reason } };
  },
);
parentPort?.postMessage(answer);
