/** Where text goes: a file, standard output, memory. */
export interface TextSink {
  /** Resolves when the text was taken. */
  write(text: string): Promise<void>;
  /** The same with UTF-8, which is free for other use when it was taken. A sink without it gets text. */
  writeBytes?(bytes: Uint8Array): Promise<void>;
  /** Hands on what is held back; called when a writer has ended. */
  flush?(): Promise<void>;
}

/** A value of a row: null where it is missing. */
export type Cell = string | number | null;
export type OutputRow = readonly Cell[];

/** A column of an output table. */
export interface OutputColumn {
  readonly name: string;
  /** Text is guarded against spreadsheet formulas in csv and tsv, and stands left in a table; a number never and right. */
  readonly kind: "text" | "number";
  /** Where the cells stand in a table, when not as the kind says. */
  readonly align?: "left" | "right" | undefined;
  /** Colours a cell of a table, given with its padding; the caller decides whether there is colour. */
  readonly paint?: ((cell: string) => string) | undefined;
}

/** What JSON output says of where its rows come from. */
export interface Envelope {
  /** Name and version of the form of the rows, for instance "jartally/scores@1". */
  readonly schema: string;
  readonly inputs: readonly { readonly file: string; readonly sha256: string }[];
  /** The reference set that was applied; null or left out when there is none. */
  readonly reference?: { readonly [key: string]: string | number | null } | null | undefined;
  /** The seed of the draws; null or left out when nothing was drawn. */
  readonly seed?: string | null | undefined;
}

/** How a table is shown to a person; other formats do not look at it. */
export interface TableLook {
  /** Columns of the terminal; text that does not fit is wrapped. No limit when left out. */
  readonly width?: number | undefined;
  /** Decimals that numbers are rounded to for the eye; all their digits when left out. */
  readonly decimals?: number | undefined;
  /** Colours a cell of the header, given with its padding. */
  readonly paintHeader?: ((cell: string) => string) | undefined;
}

/** Writes one table. */
export interface TableWriter {
  start(): Promise<void>;
  /** Undefined when nothing has to wait, which is so of nearly every row. */
  row(cells: OutputRow): Promise<void> | undefined;
  /** Takes rows that are bytes of the format already; only formats with a delimiter do. */
  bytes?(rows: Uint8Array): Promise<void>;
  end(): Promise<void>;
}

/** A format of output: everything about it in one object. */
export interface OutputFormat<Id extends string = string> {
  /** As users write it behind `--format`. */
  readonly id: Id;
  /** Extensions of files that mean this format, with their dot. */
  readonly extensions: readonly string[];
  /** One line for the help. */
  readonly summary: string;
  /** What stands between the cells of a row, in a format whose rows may be given as bytes. */
  readonly delimiter?: "," | "\t" | undefined;
  create(sink: TextSink, columns: readonly OutputColumn[], envelope: Envelope, look?: TableLook): TableWriter;
}

/** Keeps the literal type of the id, so that options and registry cannot drift apart. */
export function defineFormat<const Id extends string>(format: OutputFormat<Id>): OutputFormat<Id> {
  return format;
}

/**
 * Gives a writer rows as bytes.
 *
 * @throws RangeError when its format has no delimiter
 */
export async function giveBytes(writer: TableWriter, rows: Uint8Array): Promise<void> {
  if (writer.bytes === undefined) throw new RangeError("a format without delimiter takes no bytes");
  await writer.bytes(rows);
}

/**
 * A writer whose code is loaded when the first text is written, so that the list of formats itself stays light
 * enough for help.
 */
export function lazyWriter(load: () => Promise<TableWriter>): TableWriter {
  let writer: TableWriter | undefined;
  const loaded = async () => {
    writer ??= await load();
    return writer;
  };
  return {
    start: async () => (await loaded()).start(),
    row: (cells) => (writer === undefined ? loaded().then((one) => one.row(cells)) : writer.row(cells)),
    bytes: async (rows) => giveBytes(await loaded(), rows),
    end: async () => (await loaded()).end(),
  };
}
