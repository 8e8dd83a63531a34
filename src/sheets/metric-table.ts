import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { Place } from "../findings/finding.ts";
import type { FindingCode } from "../findings/register.ts";
import type { Exact } from "../model/exact.ts";
import { equalExact, parseDecimal } from "../model/exact.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { columnKey } from "./column-key.ts";
import type { MatchedColumns } from "./columns.ts";
import { readRecords, type SheetRecord } from "./records.ts";
import { parseNumber } from "./values.ts";

/** A value of a metric as it was given, exactly. */
export interface GivenValue {
  readonly value: Exact;
  readonly place: Place;
}

/** What a metric table says of one sample. */
export interface MetricSample {
  readonly sampleId: string;
  /** By metric; a metric whose cell is empty is missing and has no entry. */
  readonly values: ReadonlyMap<string, GivenValue>;
  /** Empty when the table does not say. */
  readonly stratum: string;
  /** Where the sample first appears. */
  readonly place: Place;
}

/** Metric values that were worked out elsewhere. */
export interface MetricTable {
  /** In the order in which samples first appear. */
  readonly samples: ReadonlyMap<string, MetricSample>;
  /** The metrics named, in the order in which they first appear. */
  readonly metrics: readonly string[];
  /** Samples with an error in a row, with the codes. */
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  readonly unreadable: boolean;
  readonly digests: readonly ReadFile[];
}

/** Columns of a table with one column a metric that are no metric; `jartally metrics` writes most of them. */
const NO_METRICS: ReadonlySet<string> = new Set(
  (
    "site_id collected_on reference_set reference_version individuals_counted individuals_scored status flags " +
    "index rating project waterbody replicate note notes comment comments"
  ).split(" "),
);

/**
 * Reads metric values from tables with one row a sample and metric (sample_id, metric, value) or with one column
 * a metric. A blank value is a missing metric; anything else must be a plain decimal number.
 *
 * @throws FileError when a file cannot be read any more
 */
export async function readMetricTable(
  inputs: readonly InputFile[],
  options: SheetOptions,
  findings: FindingSink,
): Promise<MetricTable> {
  const gathered = new GatheredMetrics();
  const refused = new Map<string, FindingCode[]>();
  const digests: ReadFile[] = [];
  let unreadable = false;
  for (const input of inputs) {
    const read = await readRecords(
      input,
      options,
      {
        kind: "table of metric values",
        known: ["sample_id", "metric", "value", "stratum"],
        required: ["sample_id"],
        extra: "data",
        key: "sample_id",
      },
      findings,
      (record, columns) => gathered.take(record, columns),
    );
    unreadable ||= read.unreadable;
    digests.push(read.digest);
    for (const [sampleId, codes] of read.spoilt)
      refused.set(sampleId, [...new Set([...(refused.get(sampleId) ?? []), ...codes])]);
  }
  return { samples: gathered.samples, metrics: [...gathered.metrics], refused, unreadable, digests };
}

interface SampleDraft extends MetricSample {
  readonly values: Map<string, GivenValue>;
  stratum: string;
}

class GatheredMetrics {
  readonly samples = new Map<string, SampleDraft>();
  readonly metrics = new Set<string>();

  take(record: SheetRecord, columns: MatchedColumns): void {
    const sample = this.#sampleOf(record);
    const isLong = columns.at.has("metric") && columns.at.has("value");
    if (isLong) {
      const metric = record.text("metric");
      if (metric === "")
        record.fault("metric", { code: "missing-metric-name", message: "the row has no metric" });
      else this.#add(sample, metric, record, "value");
      return;
    }
    for (const { text } of columns.extra) {
      const key = columnKey(text);
      if (!NO_METRICS.has(key)) this.#add(sample, key, record, text);
    }
  }

  #sampleOf(record: SheetRecord): SampleDraft {
    const stratum = record.text("stratum");
    const known = this.samples.get(record.key);
    if (known === undefined) {
      const place = record.place("sample_id");
      const sample = { sampleId: record.key, values: new Map<string, GivenValue>(), stratum, place };
      this.samples.set(record.key, sample);
      return sample;
    }
    if (stratum !== "" && known.stratum !== "" && stratum !== known.stratum) {
      record.fault("stratum", {
        code: "conflicting-values",
        message: `sample ${quoted(record.key)} is in the stratum ${quoted(stratum)} here and ${quoted(known.stratum)} before`,
      });
    }
    if (known.stratum === "") known.stratum = stratum;
    return known;
  }

  #add(sample: SampleDraft, metric: string, record: SheetRecord, column: string): void {
    this.metrics.add(metric);
    const text = record.text(column);
    if (text === "") return;
    const value = parseDecimal(text);
    if (value === undefined) {
      const read = parseNumber(text);
      const hint = "hint" in read ? read.hint : "write a plain number such as 12 or 0.75";
      record.fault(column, {
        code: "bad-number",
        message: `${metric} ${quoted(text)} is no plain number`,
        hint,
      });
      return;
    }
    const known = sample.values.get(metric);
    if (known === undefined) {
      sample.values.set(metric, { value, place: record.place(column) });
      return;
    }
    const { file, line } = known.place;
    const message = `${metric} of sample ${quoted(sample.sampleId)} stands in ${file}:${line} already`;
    record.fault(
      column,
      equalExact(known.value, value)
        ? { code: "repeated-value", message: `${message}, with the same value` }
        : { code: "conflicting-values", message: `${message}, with another value` },
    );
  }
}
