import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Finding, Place } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import type { Exact } from "../model/exact.ts";
import { parseDecimal } from "../model/exact.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import type { MatchedColumns } from "./columns.ts";
import type { SheetRecord } from "./records.ts";
import { readRecords } from "./records.ts";
import { parseNumber } from "./values.ts";

/** The scores of one sample as they stand in a table of scores. */
export interface ScoredSample {
  readonly sampleId: string;
  /** Exact values by measure: `index` and the metrics. Missing values are left out. */
  readonly values: ReadonlyMap<string, Exact>;
  /** Empty when the sample has none. */
  readonly rating: string;
  readonly line: number;
}

/** A table of scores, wide or long, as `score` writes it. */
export interface ScoresTable {
  readonly samples: ReadonlyMap<string, ScoredSample>;
  /** `index` first, then the metrics in the order of the table. */
  readonly measures: readonly string[];
  /** True when a fault could hide or mix up rows, or a value cannot be read. */
  readonly unreadable: boolean;
  readonly file: string;
  readonly digest: ReadFile;
}

/** Columns of the wide layout that are no metric. */
const WIDE = [
  "sample_id",
  "site_id",
  "collected_on",
  "stratum",
  "reference_set",
  "reference_version",
  "individuals_counted",
  "individuals_scored",
  "status",
  "index",
  "rating",
  "flags",
  "index_low",
  "index_high",
  "rating_support",
  "rating_next",
];
const LONG = ["kind", "name", "value", "score"];
/** What the long layout has in place of a rating when there is none. */
const STATUSES: ReadonlySet<string> = new Set(["scored", "flagged", "held-back", "refused"]);

/**
 * Reads a table of scores back.
 *
 * In the wide layout every column that is not one of the known ones is a metric when it holds numbers; columns
 * of scores (`<metric>_score`) and of words are passed over.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readScoresTable(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<ScoresTable> {
  const rows = new ScoreRows();
  const read = await readRecords(
    input,
    options,
    {
      kind: "table of scores",
      known: [...WIDE, ...LONG],
      required: ["sample_id"],
      extra: "data",
      key: "sample_id",
    },
    findings,
    (record, columns) => {
      const isLong = LONG.slice(0, 3).every((column) => columns.at.has(column));
      if (isLong) rows.addLong(record);
      else rows.addWide(record, columns);
    },
  );
  const isLong = LONG.slice(0, 3).every((column) => read.columns.at.has(column));
  if (read.columns.isUsable && !isLong && rows.measures.length === 0 && read.digest.rows > 0) {
    findings.add(
      finding(
        "missing-column",
        { file: read.place, line: 1, column: 0 },
        {
          message: "there is no column of an index or of a metric",
          hint: "give the table that jartally score writes, wide or long",
        },
      ),
    );
    rows.isSpoilt = true;
  }
  const faults = rows.faults();
  for (const fault of faults) findings.add(fault);
  return {
    samples: rows.samples(),
    measures: rows.measures,
    unreadable: read.unreadable || read.spoilt.size > 0 || rows.isSpoilt || faults.length > 0,
    file: read.place,
    digest: read.digest,
  };
}

interface RawCell {
  readonly sampleId: string;
  readonly text: string;
  readonly place: Place;
}

/** Gathers cells first: whether a column of another name is a metric shows only when all of it has been seen. */
class ScoreRows {
  isSpoilt = false;
  readonly #cells = new Map<string, RawCell[]>();
  readonly #samples = new Map<string, { rating: string; line: number }>();
  /** Pairs of measure and sample of the long layout that have been met. */
  readonly #met = new Map<string, Set<string>>();

  addWide(record: SheetRecord, columns: MatchedColumns): void {
    if (this.#samples.has(record.key)) {
      record.fault("sample_id", {
        code: "repeated-score-row",
        message: `sample ${quoted(record.key)} stands in line ${this.#samples.get(record.key)?.line} already`,
      });
      return;
    }
    const index = record.text("index");
    const rating = record.text("rating");
    this.#samples.set(record.key, { rating: index === "" ? "" : rating, line: record.line });
    if (columns.at.has("index")) this.#add("index", record, "index");
    const names = new Set(columns.extra.map((cell) => cell.text));
    for (const { text: name } of columns.extra) {
      const isScore = name.endsWith("_score") && names.has(name.slice(0, -"_score".length));
      if (!isScore) this.#add(name, record, name);
    }
  }

  addLong(record: SheetRecord): void {
    const kind = record.text("kind");
    const name = kind === "index" ? "index" : record.text("name");
    const known = this.#samples.get(record.key);
    const value = record.text("value");
    const rating = record.text("rating");
    const own = kind === "index" && value !== "" && !STATUSES.has(rating) ? rating : "";
    const met = this.#met.get(name) ?? new Set();
    this.#met.set(name, met);
    if (met.has(record.key)) {
      record.fault("name", {
        code: "repeated-score-row",
        message: `sample ${quoted(record.key)} has ${quoted(name)} twice`,
      });
      return;
    }
    met.add(record.key);
    this.#samples.set(record.key, {
      rating: own === "" ? (known?.rating ?? "") : own,
      line: known?.line ?? record.line,
    });
    this.#add(name, record, "value");
  }

  /** Measures with at least one number, the index first. */
  get measures(): string[] {
    const names = [...this.#cells].filter(([, cells]) => cells.some(isNumber)).map(([name]) => name);
    return names.sort((a, b) => Number(b === "index") - Number(a === "index"));
  }

  /** Texts among the numbers of a measure. */
  faults(): Finding[] {
    return this.measures.flatMap((measure) =>
      (this.#cells.get(measure) ?? [])
        .filter((cell) => cell.text !== "" && !isNumber(cell))
        .map(({ text, place, sampleId }) => {
          const read = parseNumber(text);
          const hint = "hint" in read ? read.hint : undefined;
          const message = `${measure} ${quoted(text)} is no number`;
          return finding("bad-number", place, { message, hint, sampleId });
        }),
    );
  }

  samples(): Map<string, ScoredSample> {
    const values = new Map<string, Map<string, Exact>>();
    for (const measure of this.measures) {
      for (const { sampleId, text } of this.#cells.get(measure) ?? []) {
        const value = parseDecimal(text);
        if (value === undefined) continue;
        const own = values.get(sampleId) ?? new Map<string, Exact>();
        own.set(measure, value);
        values.set(sampleId, own);
      }
    }
    return new Map(
      [...this.#samples].map(([sampleId, known]) => [
        sampleId,
        { sampleId, values: values.get(sampleId) ?? new Map(), ...known },
      ]),
    );
  }

  #add(measure: string, record: SheetRecord, column: string): void {
    const cells = this.#cells.get(measure) ?? [];
    cells.push({ sampleId: record.key, text: record.text(column), place: record.place(column) });
    this.#cells.set(measure, cells);
  }
}

function isNumber({ text }: RawCell): boolean {
  return parseDecimal(text) !== undefined;
}
