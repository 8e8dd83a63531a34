import * as fs from "node:fs";
import { promisify } from "node:util";

/**
 * What the program uses of `node:fs/promises`, made of `node:fs`, which every process has at hand when it starts: the
 * module of promises takes longer to load and compile than a short command takes to read its files. The build puts
 * this in its place; `tests/start/promised-files.test.ts` holds the two together.
 */
export const access = promisify(fs.access);
export const chmod = promisify(fs.chmod);
export const lstat = promisify(fs.lstat);
export const mkdir = promisify(fs.mkdir);
export const readdir = promisify(fs.readdir);
export const readFile = promisify(fs.readFile);
export const realpath = promisify(fs.realpath.native);
export const rename = promisify(fs.rename);
export const rm = promisify(fs.rm);
export const stat = promisify(fs.stat);
export const unlink = promisify(fs.unlink);
export const writeFile = promisify(fs.writeFile);

const openDescriptor = promisify(fs.open);
const readDescriptor = promisify(fs.read);
const writeDescriptor = promisify(fs.write);
const syncDescriptor = promisify(fs.fsync);
const closeDescriptor = promisify(fs.close);

/**
 * An open file, as far as the program uses it. As with Node's own, closing waits for what runs, and nothing is done to
 * a file that is closed: its descriptor may be that of another file by then.
 */
export async function open(path: string, flags: string, mode?: number) {
  const descriptor = await openDescriptor(path, flags, mode);
  const running = new Set<Promise<unknown>>();
  let isClosed = false;
  const run = async <Value>(start: () => Promise<Value>): Promise<Value> => {
    if (isClosed) throw Object.assign(new Error("file closed"), { code: "EBADF" });
    const work = start();
    running.add(work);
    try {
      return await work;
    } finally {
      running.delete(work);
    }
  };
  return {
    read: (buffer: Uint8Array, offset: number, length: number) =>
      run(() => readDescriptor(descriptor, buffer, offset, length, null)),
    write: (buffer: Uint8Array, offset: number, length: number) =>
      run(() => writeDescriptor(descriptor, buffer, offset, length, null)),
    sync: () => run(() => syncDescriptor(descriptor)),
    async close() {
      isClosed = true;
      await Promise.allSettled(running);
      await closeDescriptor(descriptor);
    },
  };
}
