import type { FindingSink } from "../../findings/collector.ts";
import { finding } from "../../findings/finding.ts";
import type { FileDigest } from "../digest.ts";
import type { InputFile } from "../input.ts";
import { PackedFileError } from "../packed-file-error.ts";
import { refusedTable, type TableReading } from "../table-reading.ts";
import { BlankRows, isBlank } from "../text/blank-rows.ts";
import { headerCells } from "../text/header-row.ts";
import type { RowBatch } from "../text/records.ts";
import { quoted } from "../visible-text.ts";
import { type CellPlace, scanSheet } from "./sheet-scan.ts";
import { type SheetPart, sheetParts } from "./workbook-parts.ts";
import { type ArchiveEntry, ArchiveError, readDirectory, unpackEntry } from "./zip-archive.ts";

/** Largest workbook file, largest sum of its parts unpacked, and how many times larger than packed they may be. */
const LARGEST_FILE = 50 * 2 ** 20;
const LARGEST_UNPACKED = 100 * 2 ** 20;
const LARGEST_RATIO = 200;
/** Small parts are packed well without any harm. */
const RATIO_FROM = 2 ** 20;
/** Most rows and most cells between the first cell and the last; the time to read rows grows faster than their number. */
const MOST_ROWS = 200_000;
const MOST_CELLS = 2_000_000;

/**
 * Opens a sheet of an .xlsx workbook: the one named, else the first that is not hidden. Sizes are judged before
 * anything is unpacked, and held to while unpacking.
 */
export async function openWorkbook(
  input: InputFile,
  chunks: AsyncIterable<Uint8Array>,
  digest: () => Promise<FileDigest>,
  findings: FindingSink,
): Promise<TableReading> {
  let place = input.name;
  try {
    const bytes = await gather(chunks);
    const archive = new Workbook(bytes);
    const sheet = archive.sheet(input.sheet);
    place = `${input.name}#${sheet.name}`;
    const scan = scanSheet(archive.text(sheet.path));
    if (scan.rows > MOST_ROWS || scan.rows * scan.columns > MOST_CELLS)
      throw new ArchiveError(
        `its cells reach to row ${scan.rows} and field ${scan.columns}; save the sheet as CSV`,
      );
    const at = (cell: CellPlace | undefined) => ({
      file: place,
      line: cell?.row ?? 0,
      column: cell?.column ?? 0,
    });
    const { formulas, unsolved } = scan;
    if (unsolved.count > 0) {
      const message = `${cells(unsolved.count)} a formula without a value, the first is ${unsolved.first?.name ?? ""}`;
      findings.add(finding("unsolved-formula", at(unsolved.first), { message }));
    } else if (formulas.count > 0) {
      const message = `${cells(formulas.count)} a formula, the first is ${formulas.first?.name ?? ""}`;
      findings.add(finding("formula-cell", at(formulas.first), { message }));
    }
    const { sheetCells } = await import("./sheet-cells.ts");
    const parts = archive.parts(sheet.path, Buffer.from(scan.xml, "utf8"));
    const rows = await sheetCells(parts, sheet.name).catch((error: unknown) => {
      throw new ArchiveError(
        `its sheet cannot be read (${error instanceof Error ? error.message : "damaged"})`,
      );
    });
    return new WorkbookReading(place, rows, unsolved.count > 0, digest, findings);
  } catch (error) {
    if (error instanceof ArchiveError)
      return refusedTable(
        place,
        digest,
        findings,
        "bad-workbook",
        `the workbook cannot be read: ${error.message}`,
      );
    if (error instanceof PackedFileError)
      return refusedTable(place, digest, findings, "bad-gzip", error.message);
    throw error;
  }
}

function cells(count: number): string {
  return count === 1 ? "a cell holds" : `${count} cells hold`;
}

async function gather(chunks: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of chunks) {
    parts.push(chunk);
    length += chunk.length;
    if (length > LARGEST_FILE)
      throw new ArchiveError(`it is larger than ${LARGEST_FILE / 2 ** 20} MiB; save the sheet as CSV`);
  }
  return Buffer.concat(parts);
}

/** The parts of a workbook that its tables need. */
class Workbook {
  readonly #bytes: Uint8Array;
  readonly #entries: ReadonlyMap<string, ArchiveEntry>;

  /** @throws ArchiveError when it is damaged or unpacks to too much */
  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    const entries = readDirectory(bytes).filter(({ name }) => /^(?:xl\/|\[Content_Types\]\.xml$)/.test(name));
    this.#entries = new Map(entries.map((entry) => [entry.name, entry]));
    if (!this.#entries.has("xl/workbook.xml")) throw new ArchiveError("it is an archive of another kind");
    for (const { size, packedSize } of entries) {
      if (size > RATIO_FROM && size > packedSize * LARGEST_RATIO)
        throw new ArchiveError(`a part of it unpacks to more than ${LARGEST_RATIO} times its size`);
    }
  }

  /** @throws ArchiveError when there is no such sheet */
  sheet(name: string | undefined): SheetPart & { readonly path: string } {
    const sheets = sheetParts(this.text("xl/workbook.xml"), this.text("xl/_rels/workbook.xml.rels"));
    const tables = sheets.flatMap((sheet) =>
      sheet.path === undefined ? [] : [{ ...sheet, path: sheet.path }],
    );
    const [first] = tables;
    if (first === undefined) throw new ArchiveError("it has no sheet");
    if (name === undefined) return tables.find((sheet) => !sheet.isHidden) ?? first;
    const found =
      tables.find((sheet) => sheet.name === name) ??
      tables.find((sheet) => sheet.name.toLowerCase() === name.toLowerCase());
    if (found !== undefined) return found;
    const names = tables.map((sheet) => sheet.name).join(", ");
    throw new ArchiveError(`there is no sheet ${quoted(name)}; the sheets are ${names}`);
  }

  text(path: string): string {
    return Buffer.from(this.#unpack([path]).get(path) ?? new Uint8Array(0)).toString("utf8");
  }

  /** What is needed to read one sheet, with the XML of the sheet given anew. */
  parts(sheetPath: string, sheetXml: Uint8Array): Map<string, Uint8Array> {
    const wanted = [...this.#entries.keys()].filter(
      (path) =>
        path !== sheetPath &&
        /^xl\/(?:workbook\.xml|_rels\/workbook\.xml\.rels|[^/]*(?:strings|styles)[^/]*\.xml)$/i.test(path),
    );
    return this.#unpack(wanted).set(sheetPath, sheetXml);
  }

  #unpack(paths: readonly string[]): Map<string, Uint8Array> {
    const entries = paths.map((path) => {
      const entry = this.#entries.get(path);
      if (entry === undefined) throw new ArchiveError(`its part ${path} is missing`);
      return entry;
    });
    if (entries.reduce((sum, { size }) => sum + size, 0) > LARGEST_UNPACKED)
      throw new ArchiveError(
        `it unpacks to more than ${LARGEST_UNPACKED / 2 ** 20} MiB; save the sheet as CSV`,
      );
    return new Map(entries.map((entry) => [entry.name, unpackEntry(this.#bytes, entry)]));
  }
}

class WorkbookReading implements TableReading {
  readonly place: string;
  readonly header: TableReading["header"];
  readonly headerLine: number;
  readonly isBroken: boolean;
  readonly digest: () => Promise<FileDigest>;
  readonly #rows: readonly (readonly string[])[];
  readonly #findings: FindingSink;

  constructor(
    place: string,
    rows: readonly (readonly string[])[],
    isUnsolved: boolean,
    digest: () => Promise<FileDigest>,
    findings: FindingSink,
  ) {
    const at = rows.findIndex((row) => !isBlank(row));
    this.place = place;
    this.header = headerCells(rows[at] ?? []);
    this.headerLine = at + 1;
    this.isBroken = at < 0 || isUnsolved;
    this.digest = digest;
    this.#rows = rows.slice(at + 1);
    this.#findings = findings;
    if (at < 0)
      findings.add(
        finding("empty-file", { file: place, line: 0, column: 0 }, { message: "the sheet is empty" }),
      );
  }

  get ahead(): RowBatch {
    return { rows: this.#rows.slice(0, 50), lines: { first: this.headerLine + 1 } };
  }

  async *batches(): AsyncGenerator<RowBatch> {
    if (this.header.length === 0) return;
    const blankRows = new BlankRows(this.place);
    const filled = blankRows.withoutBlanks({ rows: this.#rows, lines: { first: this.headerLine + 1 } });
    blankRows.report(this.#findings);
    if (filled.rows.length > 0) yield filled;
    else {
      const at = { file: this.place, line: this.headerLine, column: 0 };
      this.#findings.add(finding("no-rows", at, { message: "there is a header and no row below it" }));
    }
  }
}
