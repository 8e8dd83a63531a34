import { dirname, join } from "node:path";
import { FileSink } from "../files/file-sink.ts";
import type { FileSystem, OpenFile } from "../files/file-system.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import type { TextSink } from "../files/formats/define.ts";

const MODE = 0o666;

/** Writes the files of a new folder; each file is new, several may be open at a time. */
export class FolderWriter {
  readonly #folder: string;
  readonly #fileSystem: FileSystem;
  readonly #made = new Set<string>();
  readonly #open = new Map<string, { readonly file: OpenFile; readonly sink: FileSink }>();

  constructor(folder: string, fileSystem: FileSystem = nodeFileSystem) {
    this.#folder = folder;
    this.#fileSystem = fileSystem;
  }

  /** Writes a whole file; folders on its way are made. */
  async put(path: string, content: string | Uint8Array): Promise<void> {
    await this.#makeFolders(dirname(path));
    const file = await this.#fileSystem.createFile(join(this.#folder, path), MODE);
    try {
      await file.write(typeof content === "string" ? Buffer.from(content, "utf8") : content);
    } finally {
      await file.close();
    }
  }

  /** Opens files that are written piece by piece, runs `write`, and closes them whatever happens. */
  async streams<Path extends string, Result>(
    paths: readonly Path[],
    write: (sinkOf: (path: Path) => TextSink) => Promise<Result>,
  ): Promise<Result> {
    try {
      for (const path of paths) {
        await this.#makeFolders(dirname(path));
        const file = await this.#fileSystem.createFile(join(this.#folder, path), MODE);
        this.#open.set(path, { file, sink: new FileSink(file) });
      }
      const result = await write((path) => {
        const open = this.#open.get(path);
        if (open === undefined) throw new RangeError(`${path} is not open`);
        return open.sink;
      });
      for (const { sink } of this.#open.values()) await sink.flush();
      return result;
    } finally {
      for (const { file } of this.#open.values()) await file.close();
      this.#open.clear();
    }
  }

  async #makeFolders(path: string): Promise<void> {
    if (path === "." || this.#made.has(path)) return;
    await this.#makeFolders(dirname(path));
    await this.#fileSystem.createFolder(join(this.#folder, path));
    this.#made.add(path);
  }
}
