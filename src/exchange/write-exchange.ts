import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Zippable } from "fflate";
import { zipSync } from "fflate";
import { csvFormat } from "../files/formats/csv.ts";
import type { TextSink } from "../files/formats/define.ts";
import { writeRows } from "../files/formats/write-rows.ts";
import { writeFolderWhole } from "../files/safe-write.ts";
import type { ExchangeFormat } from "./define.ts";
import type { ExchangeRun, ExchangeSample } from "./exchange-sample.ts";

/** What an export has to say when it is done. */
export interface ExchangeOutcome {
  /** Rows by file, in the order of the tables. */
  readonly tables: readonly { readonly file: string; readonly rows: number }[];
  /** What has to be known, in lines as "3 samples without a day". */
  readonly notes: readonly string[];
}

/** The one moment in archives, so that the same tables give the same bytes; zip knows none before. */
const ARCHIVE_TIME = new Date(1980, 0, 1);

/**
 * Leaves a folder with the tables of an exchange format as CSV, whole or not at all.
 *
 * @param path absolute path of the folder, which must not exist
 * @param shownAs the path as the user gave it
 * @param samples taken once, one by one
 * @throws FileError when the folder exists or cannot be written
 */
export async function writeExchange(
  path: string,
  shownAs: string,
  format: ExchangeFormat,
  run: ExchangeRun,
  samples: Iterable<ExchangeSample> | AsyncIterable<ExchangeSample>,
): Promise<ExchangeOutcome> {
  const notes = new Map<string, { readonly what: string; count: number }>();
  const writer = format.create(run, {
    add(what, text) {
      const note = notes.get(text);
      if (note === undefined) notes.set(text, { what, count: 1 });
      else note.count += 1;
    },
  });
  const texts = format.tables.map(() => new GatheredText());
  const tables = format.tables.map(({ columns }, at) =>
    csvFormat.create(texts[at] ?? new GatheredText(), columns, { schema: "", inputs: [] }),
  );
  const counts = format.tables.map(() => 0);
  for (const table of tables) await table.start();
  for await (const sample of samples) {
    for (const [at, rows] of writer.rows(sample).entries()) {
      const table = tables[at];
      if (table !== undefined) await writeRows(table, rows);
      counts[at] = (counts[at] ?? 0) + rows.length;
    }
  }
  for (const table of tables) await table.end();
  const files = new Map<string, Buffer>([
    ...format.tables.map(({ file }, at): [string, Buffer] => [file, texts[at]?.bytes() ?? Buffer.of()]),
    ...[...format.documents(run)].map(([file, text]): [string, Buffer] => [file, Buffer.from(text, "utf8")]),
  ]);
  await writeFolderWhole(
    path,
    async (folder) => {
      for (const [name, bytes] of files) await writeFile(join(folder, name), bytes);
      if (format.archive !== undefined) await writeFile(join(folder, format.archive), zipped(files));
    },
    { shownAs },
  );
  return {
    tables: format.tables.map(({ file }, at) => ({ file, rows: counts[at] ?? 0 })),
    notes: [...notes].map(([text, { what, count }]) => `${count} ${what}${count === 1 ? "" : "s"} ${text}`),
  };
}

function zipped(files: ReadonlyMap<string, Buffer>): Uint8Array {
  const entries: Zippable = Object.create(null);
  for (const [name, bytes] of files) entries[name] = bytes;
  // Stated outright, since the platform's own mark would make the bytes depend on the machine.
  return zipSync(entries, { mtime: ARCHIVE_TIME, os: 0, level: 6 });
}

/** Text as bytes, which take half the room of the pieces they came in. */
class GatheredText implements TextSink {
  readonly #pieces: Buffer[] = [];

  async write(text: string): Promise<void> {
    this.#pieces.push(Buffer.from(text, "utf8"));
  }

  async writeBytes(bytes: Uint8Array): Promise<void> {
    this.#pieces.push(Buffer.from(bytes));
  }

  bytes(): Buffer {
    return Buffer.concat(this.#pieces);
  }
}
