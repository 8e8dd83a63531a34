import type { ExchangeId } from "../exchange/ids.ts";
import { EXCHANGE_IDS } from "../exchange/ids.ts";
import { defineCommand, defineOption, UsageError } from "./define.ts";
import { exactPlacesOption, folderOption } from "./options/folder-output.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";

const asOption = defineOption<ExchangeId>({
  flags: "--as <format>",
  summary: "The format that the other system takes.",
  group: "Output",
  choices: () => EXCHANGE_IDS,
  parse: (word) => EXCHANGE_IDS.find((id) => id === word) ?? "darwin-core",
});

const DEMO_RUN =
  "jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run run-2023";

export const exportRun = defineCommand({
  name: "export",
  summary: "a stored run as tables that other systems take",
  description:
    "Writes a run folder (made by score --run) in an open exchange format, as CSV files in a new folder.\n\nAs darwin-core: an archive of visits and samples (event.csv), animals as they were identified, before any draw (occurrence.csv), counts, metrics, index and rating (extended-measurement-or-fact.csv), how the survey was made (humboldt.csv), with meta.xml, and the same as one zip file. The ids are made of the lab's own ids and names: they stay the same when the run is scored again.\n\nAs water-quality-exchange: animals (results.csv), metrics with their scores (metrics.csv) and indices (indices.csv) under that exchange's column names and within its length limits. Results are given as Preliminary: a person of the lab makes them final.\n\nWhere protected animals were found, coordinates are rounded and notes are left out. Ids of sites and names of waters are not: look whether they give the place away before you publish. A score is no legal determination unless the responsible agency's method was followed by qualified people.",
  operands: [{ name: "<run>", summary: "A run folder." }],
  options: [asOption, folderOption, exactPlacesOption, ...MESSAGE_OPTIONS],
  required: [{ option: asOption }, { option: folderOption }],
  examples: [
    {
      line: "jartally export run-2023 --as darwin-core -o run-2023-dwc",
      after: [DEMO_RUN],
      explains: "An archive for a portal of biodiversity data.",
    },
    {
      line: "jartally export run-2023 --as water-quality-exchange -o run-2023-wqx",
      after: [DEMO_RUN],
      explains: "Tables for a water quality database.",
    },
  ],
  run: async (context, { operands, options }) => {
    const format = options.get(asOption);
    if (format === undefined)
      throw new UsageError("name the format with --as", `it is one of ${EXCHANGE_IDS.join(", ")}`);
    const folder = options.get(folderOption);
    if (folder === undefined) throw new UsageError("name the folder to make with --output");
    const [run = ""] = operands;
    const { exportStored } = await import("./export-run.ts");
    return exportStored(context, options, {
      run,
      folder,
      format,
      exactPlaces: options.get(exactPlacesOption) === true,
    });
  },
});
