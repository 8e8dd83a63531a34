import { dirname, join } from "node:path";
import type { FileSystem, OpenFile } from "../files/file-system.ts";
import { nodeFileSystem } from "../files/file-system.ts";
import type { TextSink } from "../files/formats/define.ts";

const PIECE = 1 << 16;
const MODE = 0o666;

/** Writes the files of a new folder; each file is new, several may be open at a time. */
export class FolderWriter {
  readonly #folder: string;
  readonly #fileSystem: FileSystem;
  readonly #made = new Set<string>();
  readonly #open = new Map<string, BufferedFile>();

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
        this.#open.set(path, new BufferedFile(file));
      }
      const result = await write((path) => {
        const sink = this.#open.get(path);
        if (sink === undefined) throw new RangeError(`${path} is not open`);
        return sink;
      });
      for (const sink of this.#open.values()) await sink.flush();
      return result;
    } finally {
      for (const sink of this.#open.values()) await sink.close();
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

class BufferedFile implements TextSink {
  readonly #file: OpenFile;
  #pending = "";

  constructor(file: OpenFile) {
    this.#file = file;
  }

  async write(text: string): Promise<void> {
    this.#pending += text;
    if (this.#pending.length >= PIECE) await this.flush();
  }

  async flush(): Promise<void> {
    const text = this.#pending;
    this.#pending = "";
    if (text !== "") await this.#file.write(Buffer.from(text, "utf8"));
  }

  async close(): Promise<void> {
    await this.#file.close();
  }
}
