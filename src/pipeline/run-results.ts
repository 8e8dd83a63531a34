import { findingsTable } from "../files/findings-table.ts";
import { csvFormat } from "../files/formats/csv.ts";
import type { OutputColumn, OutputRow, TableWriter, TextSink } from "../files/formats/define.ts";
import type { Finding } from "../findings/finding.ts";
import { sortFindings } from "../findings/finding.ts";
import { at } from "../model/at.ts";
import { toNumber } from "../model/exact.ts";
import { valueAsNumber } from "../model/metric-value.ts";
import type { Watcher } from "../model/watcher.ts";
import { unwatched } from "../model/watcher.ts";
import type { ResultFile } from "../runs/run-files.ts";
import { RUN_FILES } from "../runs/run-files.ts";
import type { IntervalMemory } from "./intervals/interval-memory.ts";
import type { StoredRun } from "./open-run.ts";
import type { SampleScore } from "./result.ts";
import { roadsInThreads } from "./roads.ts";
import type { Batch } from "./score-batch.ts";
import { wideColumns, wideRow } from "./score-tables.ts";
import type { SampleRoad } from "./walk-sample.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** One table of results: its columns, and the rows of a sample. */
interface ResultTable {
  readonly file: Exclude<ResultFile, typeof RUN_FILES.findings>;
  readonly columns: (run: Scorable) => readonly OutputColumn[];
  readonly rows: (run: Scorable, road: SampleRoad) => OutputRow[];
}

/** A stored run whose rows and set could be joined. */
type Scorable = StoredRun & { readonly batch: Batch };

const TABLES: readonly ResultTable[] = [
  {
    file: RUN_FILES.scores,
    columns: ({ set, choices }) => wideColumns(set, choices.resampling !== undefined),
    rows: ({ set, choices }, { score }) => [wideRow(set, score, choices.resampling !== undefined)],
  },
  {
    file: RUN_FILES.metrics,
    columns: ({ choices }) => [
      text("sample_id"),
      text("metric"),
      number("value"),
      number("score"),
      text("why_missing"),
      ...(choices.resampling === undefined ? [] : ["low", "high", "support"].map(number)),
    ],
    rows: ({ choices }, { score }) =>
      score.metrics.map(({ id, value, score: points }) => [
        score.sampleId,
        id,
        valueAsNumber(value) ?? null,
        points === undefined ? null : toNumber(points),
        value.kind === "missing" ? value.why : "",
        ...(choices.resampling === undefined ? [] : endsOf(score, id)),
      ]),
  },
  {
    file: RUN_FILES.draw,
    columns: () => [
      text("sample_id"),
      text("draw"),
      number("target"),
      number("animals_before"),
      number("animals_after"),
      text("seed"),
      text("algorithm"),
    ],
    rows: (_, { prepared, score }) => {
      if (prepared.kind === "stopped")
        return [[score.sampleId, score.status, null, score.individualsCounted ?? null, null, "", ""]];
      const { status, target, seed, algorithm } = prepared.draw;
      const main = prepared.drawn.piles.filter((pile) => !pile.largeRare);
      const after = main.reduce((sum, pile) => sum + pile.count, 0);
      return [[score.sampleId, status, target ?? null, prepared.counted, after, seed, algorithm]];
    },
  },
  {
    file: RUN_FILES.piles,
    columns: () => [
      text("sample_id"),
      text("name"),
      text("taxon"),
      text("life_stage"),
      text("part"),
      number("animals_before"),
      number("animals_after"),
    ],
    rows: ({ batch: { names, compiled } }, { prepared, score }) =>
      prepared.kind === "stopped"
        ? []
        : prepared.drawn.piles.map(({ pile, count }) => [
            score.sampleId,
            at(names.keyNames, pile.key),
            compiled.tree.nameOf(pile.taxon),
            pile.stage === "unknown" ? "" : pile.stage,
            pile.largeRare ? "large-rare" : "main",
            pile.count,
            count,
          ]),
  },
  {
    file: RUN_FILES.counts,
    columns: () => [text("sample_id"), text("taxon"), text("rank"), number("count"), number("richness")],
    rows: ({ batch: { compiled } }, { one, score }) => {
      const rows: OutputRow[] = [];
      if (one === undefined) return rows;
      const { taxa, counts, richness } = one.community;
      // A loop: nothing else in a run has as many rows but its own, and Array.from takes its time.
      for (let at = 0; at < taxa.length; at++) {
        const taxon = taxa[at] as number;
        rows.push([
          score.sampleId,
          compiled.tree.nameOf(taxon),
          compiled.tree.rankOf(taxon),
          counts[at] as number,
          richness[at] as number,
        ]);
      }
      return rows;
    },
  },
];

function endsOf({ interval }: SampleScore, metric: string): OutputRow {
  const own = interval?.metrics.find((one) => one.id === metric);
  return [own?.low ?? null, own?.high ?? null, own?.support ?? null];
}

/**
 * Scores a stored run and writes its results, sample by sample, each table into the sink of its file. The one
 * function behind a new run and its verification: what verify compares is what a run would be written as.
 *
 * @param intervals is given those of the samples
 * @returns every finding, as findings.csv has them
 */
export async function writeResults(
  run: Scorable,
  sinkOf: (file: ResultFile) => TextSink,
  watch: Watcher = unwatched,
  intervals?: Pick<IntervalMemory, "keep">,
): Promise<readonly Finding[]> {
  const writers = TABLES.map((table): [ResultTable, TableWriter] => [
    table,
    csvFormat.create(sinkOf(table.file), table.columns(run), { schema: "", inputs: [] }),
  ]);
  for (const [, writer] of writers) await writer.start();
  const findings: Finding[] = [...run.findings];
  let done = 0;
  for await (const road of roadsInThreads(run.batch, run.choices)) {
    findings.push(...road.findings);
    const { sampleId, interval } = road.score;
    if (interval !== undefined) intervals?.keep(sampleId, interval);
    for (const [table, writer] of writers)
      for (const row of table.rows(run, road)) {
        const taken = writer.row(row);
        if (taken !== undefined) await taken;
      }
    done += 1;
    const pause = watch("samples of the run", done, run.batch.table.samples.size);
    if (pause !== undefined) await pause;
  }
  for (const [, writer] of writers) await writer.end();
  const sorted = sortFindings(
    findings,
    run.record.inputs.map((input) => input.file),
  );
  const sink = sinkOf(RUN_FILES.findings);
  await sink.write(findingsTable(sorted));
  await sink.flush?.();
  return sorted;
}
