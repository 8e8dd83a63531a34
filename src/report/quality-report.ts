import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { findingsTable } from "../files/findings-table.ts";
import type { TextSink } from "../files/formats/define.ts";
import { findFormat } from "../files/formats/registry.ts";
import { writeRows } from "../files/formats/write-rows.ts";
import { writeFolderWhole } from "../files/safe-write.ts";
import { sortFindings } from "../findings/finding.ts";
import { drawControlChart } from "./control-chart.ts";
import type { QualityReport } from "./quality-page.ts";
import { qualityPage } from "./quality-page.ts";
import type { QualityTable } from "./quality-table.ts";
import { QUALITY_FILE, storedQuality } from "./stored-quality.ts";

/**
 * Leaves a folder with a page (`index.html`), the same for later reports (`quality.json`), every table as CSV, the findings and each control chart as an SVG
 * file, whole or not at all.
 *
 * @param path absolute path of the folder, which must not exist
 * @param shownAs the path as the user gave it
 * @throws FileError when the folder exists or cannot be written
 */
export async function writeQualityReport(
  path: string,
  shownAs: string,
  report: QualityReport,
): Promise<void> {
  const inputs = report.inputs.map(({ file }) => file);
  const sorted = { ...report, findings: sortFindings(report.findings, inputs) };
  const files: [string, string][] = [
    ["index.html", qualityPage(sorted)],
    [QUALITY_FILE, storedQuality(sorted)],
    ["findings.csv", findingsTable(sorted.findings)],
    ...sorted.charts.map((chart, at): [string, string] => [
      `control-chart-${String(at + 1).padStart(2, "0")}.svg`,
      `${drawControlChart(chart, `chart-${at + 1}`)}\n`,
    ]),
  ];
  for (const table of sorted.tables) files.push([`${table.id}.csv`, await csvOf(table, sorted)]);
  await writeFolderWhole(
    path,
    async (folder) => {
      for (const [name, text] of files) await writeFile(join(folder, name), text);
    },
    { shownAs },
  );
}

async function csvOf(table: QualityTable, { inputs }: QualityReport): Promise<string> {
  let text = "";
  const sink: TextSink = {
    async write(piece) {
      text += piece;
    },
  };
  const writer = findFormat("csv").create(sink, table.columns, {
    schema: `jartally/qc-${table.id}@1`,
    inputs,
  });
  await writer.start();
  await writeRows(writer, table.rows);
  await writer.end();
  return text;
}
