import type { Cell, OutputRow } from "../files/formats/define.ts";
import { compareCodePoints } from "../model/order.ts";
import type { ExchangeNotes } from "./define.ts";
import { defineExchange } from "./define.ts";
import type { ExchangeMetric, ExchangeRecord, ExchangeRun, ExchangeSample } from "./exchange-sample.ts";
import { fitId, fitText } from "./fit-text.ts";
import { joined, oneLine } from "./one-line.ts";
import type { LimitedColumn } from "./water-quality-columns.ts";
import { INDEX_COLUMNS, METRIC_COLUMNS, RESULT_COLUMNS } from "./water-quality-columns.ts";

/** Units of metrics that the exchange's list of units has, by our word for them. */
const UNITS: ReadonlyMap<string, string> = new Map([
  ["percent", "%"],
  ["taxa", "count"],
  ["families", "count"],
  ["animals", "count"],
]);
const NO_UNIT = "None";

const CLASSES: ReadonlyMap<string, string> = new Map([
  ["egg", "Egg"],
  ["larva", "Larva"],
  ["nymph", "Nymph"],
  ["pupa", "Pupa"],
  ["adult", "Adult"],
]);

/** Columns whose texts are ids: shortened ones must stay unlike one another. */
const IDS: ReadonlySet<string> = new Set([
  "Project ID",
  "Monitoring Location ID",
  "Activity ID",
  "Metric Type ID",
  "Index ID",
  "Index Type ID",
]);

/**
 * Tables with the column names and length limits of the US Water Quality Exchange: animals, metrics, indices.
 * Animals that do not count are left out; those put back alive stand in the result table and say so.
 */
export const waterQualityExchange = defineExchange({
  id: "water-quality-exchange",
  tables: [
    { file: "results.csv", columns: RESULT_COLUMNS },
    { file: "metrics.csv", columns: METRIC_COLUMNS },
    { file: "indices.csv", columns: INDEX_COLUMNS },
  ],
  documents: () => new Map(),
  create: (run, notes) => ({
    rows(sample) {
      if (sample.status === "refused" || sample.status === "held-back") {
        notes.add("sample", "refused or held back, so without rows");
        return [[], [], []];
      }
      if (!sample.facts.has("project")) notes.add("sample", "without a project, which the exchange requires");
      if (sample.collectedOn === "") notes.add("sample", "without a day, which the exchange requires");
      if (sample.siteId === "") notes.add("sample", "without a site");
      const withScore = sample.metrics.filter(({ score }) => score !== undefined);
      if (withScore.length < sample.metrics.length)
        notes.add(
          "sample",
          "with a metric that has no score: the exchange requires one, so its row is left out",
        );
      return [
        recordsOf(sample).map((record) => fitted(RESULT_COLUMNS, resultRow(sample, record), notes)),
        withScore.map((metric) => fitted(METRIC_COLUMNS, metricRow(sample, metric, run), notes)),
        sample.index === undefined ? [] : [fitted(INDEX_COLUMNS, indexRow(sample, sample.index, run), notes)],
      ];
    },
  }),
});

function recordsOf(sample: ExchangeSample): ExchangeRecord[] {
  return sample.records.filter(({ fate }) => fate !== "excluded");
}

function activityCells(sample: ExchangeSample): Cell[] {
  const { facts } = sample;
  return [
    oneLine(facts.get("project") ?? ""),
    oneLine(sample.siteId),
    oneLine(sample.sampleId),
    facts.has("duplicate_of") ? "Quality Control Sample-Field Replicate" : "Sample-Routine",
    "Biological",
    sample.collectedOn,
    "Benthic Macroinvertebrates",
  ];
}

function resultRow(sample: ExchangeSample, record: ExchangeRecord): OutputRow {
  const { facts } = sample;
  const mesh = meshOf(facts.get("mesh_um"));
  return [
    ...activityCells(sample),
    oneLine(facts.get("gear") ?? ""),
    mesh,
    mesh === null ? "" : "um",
    oneLine(facts.get("preservative") ?? ""),
    "Population Census",
    record.taxon,
    record.operational,
    CLASSES.get(record.stage) ?? "",
    "Count",
    record.count,
    "count",
    record.isExpanded ? "Estimated" : "Actual",
    // Only a person of the lab can call a result final.
    "Preliminary",
    joined([
      record.fate === "released" ? `put back alive, not part of the index: ${record.why}` : "",
      record.largeRare ? "found in the search for large and rare animals, beside the grids" : "",
      record.written.some((name) => name !== record.taxon)
        ? `on the sheet: ${[...record.written].sort(compareCodePoints).join(", ")}`
        : "",
      ...record.doubts,
      ...(record.identifiedBy.length === 0 ? [] : [`identified by ${joined(record.identifiedBy)}`]),
    ]),
  ];
}

function metricRow(sample: ExchangeSample, metric: ExchangeMetric, run: ExchangeRun): OutputRow {
  const unit = UNITS.get(metric.unit) ?? NO_UNIT;
  return [
    ...activityCells(sample),
    metric.id,
    run.set.id,
    metric.value ?? null,
    unit,
    metric.score ?? null,
    joined([
      metric.name,
      unit === NO_UNIT && metric.unit !== "" ? `unit: ${metric.unit}` : "",
      metric.whyMissing,
    ]),
    indexIdOf(sample, run),
  ];
}

function indexRow(sample: ExchangeSample, index: number, run: ExchangeRun): OutputRow {
  const { set } = run;
  return [
    indexIdOf(sample, run),
    set.id,
    index,
    "",
    joined([
      sample.rating === "" ? "" : `rating: ${sample.rating}`,
      `${set.title}, version ${set.version} (${set.verification})`,
      sample.scored === undefined ? "" : `${sample.scored} animals scored`,
      sample.drawTarget === undefined ? "" : `random fixed count of ${sample.drawTarget}, seed ${run.seed}`,
      sample.flags.length === 0 ? "" : `flags: ${sample.flags.join(", ")}`,
    ]),
    run.calculatedOn,
    oneLine(sample.siteId),
  ];
}

function indexIdOf({ sampleId }: ExchangeSample, { set }: ExchangeRun): string {
  return `${oneLine(sampleId)}:${set.id}`;
}

function meshOf(text: string | undefined): number | null {
  return text !== undefined && /^\d+(\.\d+)?$/.test(text) ? Number(text) : null;
}

/** Keeps every text within the limit of its column. */
function fitted(columns: readonly LimitedColumn[], row: OutputRow, notes: ExchangeNotes): OutputRow {
  return row.map((cell, at) => {
    const { name = "", most } = columns[at] ?? {};
    if (typeof cell !== "string" || most === undefined || [...cell].length <= most) return cell;
    notes.add("cell", `in "${name}", which takes ${most} characters: a longer text was shortened`);
    return IDS.has(name) ? fitId(cell, most) : fitText(cell, most);
  });
}
