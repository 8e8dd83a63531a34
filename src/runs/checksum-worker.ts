import { parentPort } from "node:worker_threads";
import { FileError } from "../files/file-error.ts";
import { givenToThread } from "../files/program-thread.ts";
import type { HashAnswer, HashRequest } from "./checksum-thread.ts";
import { hashFolder } from "./checksums.ts";

// A thread that hashes one folder: a path in, checksums out.
const { folder, shownAs } = givenToThread() as HashRequest;
const answer = hashFolder(folder, shownAs).then(
  (checksums): HashAnswer => ({ checksums }),
  // An error loses its class on the way, so what is needed to make it again goes by itself.
  (error: unknown): HashAnswer => {
    if (!(error instanceof FileError)) throw error;
    return { unreadable: { path: error.path, reason: error.reason } };
  },
);
void answer.then((sent) => parentPort?.postMessage(sent));
