import type { OutputColumn, OutputRow } from "../files/formats/define.ts";
import type { MetricEntry } from "../metrics/define.ts";
import { closestMetrics, findMetric, METRICS } from "../metrics/registry.ts";
import type { CommandContext } from "./context.ts";
import type { OptionValues } from "./define.ts";
import { UsageError } from "./define.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";
import { describeMetric, rangeText, referenceText } from "./metric-text.ts";
import { planOutput, writeTable } from "./output.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const BRIEF = ["metric", "name", "unit", "needs", "stress", "summary"].map(text);
const FULL = [
  "metric",
  "name",
  "also_called",
  "summary",
  "formula",
  "unit",
  "range",
  "when_empty",
  "needs",
  "stress",
  "references",
].map(text);

/** The catalogue, or all about some of its metrics: a page for a person, rows for a program. */
export async function listMetrics(
  context: CommandContext,
  options: OptionValues,
  ids: readonly string[],
): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const entries = ids.length === 0 ? METRICS : ids.map(find);
  if (ids.length > 0 && plan.format === "table" && plan.path === undefined) {
    await context.stdout.write(`${entries.map(describeMetric).join("\n\n")}\n`);
    return EXIT.done;
  }
  await writeTable(context, plan, {
    columns: ids.length === 0 ? BRIEF : FULL,
    rows: entries.map(ids.length === 0 ? briefRow : fullRow),
    envelope: { schema: "jartally/metric-catalogue@1", inputs: [] },
  });
  return EXIT.done;
}

function find(id: string): MetricEntry {
  const entry = findMetric(id);
  if (entry !== undefined) return entry;
  const close = closestMetrics(id);
  throw new UsageError(
    `no metric is called "${id}"${close.length === 0 ? "" : `; close: ${close.join(", ")}`}`,
    "jartally metrics --list shows all of them",
  );
}

function briefRow(entry: MetricEntry): OutputRow {
  return [entry.id, entry.name, entry.unit, entry.needs.join(" "), entry.stress, entry.summary];
}

function fullRow(entry: MetricEntry): OutputRow {
  return [
    entry.id,
    entry.name,
    (entry.alsoCalled ?? []).join("; "),
    entry.summary,
    entry.formula,
    entry.unit,
    rangeText(entry),
    entry.whenEmpty,
    entry.needs.join(" "),
    entry.stress,
    entry.references.map(referenceText).join("; "),
  ];
}
