import { defineCommand, defineOption, UsageError } from "./define.ts";
import { exactPlacesOption, folderOption } from "./options/folder-output.ts";
import { MESSAGE_OPTIONS } from "./options/messages.ts";

const titleOption = defineOption<string>({
  flags: "--title <text>",
  summary: "Title of the page for the batch.",
  group: "Output",
  defaultText: "Results of the runs",
  parse: (word) => word,
});

const qualityOption = defineOption<readonly string[]>({
  flags: "--quality <folders>",
  summary:
    "Folders that quality commands left with --report: their results, charts and main tables go onto the page for the batch. Several are joined by commas.",
  group: "Input",
  parse: (word) => {
    const folders = word.split(",").map((one) => one.trim());
    if (folders.some((one) => one === ""))
      throw new UsageError(`"${word}" is not a list of folders joined by commas`);
    return folders;
  },
});

const demoRun = (folder: string) =>
  `jartally score bench-sheet.csv --samples sample-log.csv --names names.csv --reference vennaloo-demo --run ${folder}`;

export const report = defineCommand({
  name: "report",
  summary: "pages to read and print: one for the batch and one for every site",
  description:
    "Writes pages from run folders (made by score --run) into a new folder: index.html for the batch, with the set and how it was checked, ratings by stratum, sites, samples from the worst on, what was refused or held back and why, and quality figures when they are given; and one page a site, with its result over all samples, its history, and for each sample the rating in plain words, its place on the index scale, the metrics with their thresholds, the animals, how they were counted and drawn, doubts and cautions.\n\nSeveral runs give a site its history. Scores of different sets, or versions of a set, are never put together. A sample that several runs scored with the same set is taken from the last of them.\n\nThe pages need no network and no script, and print on A4 and Letter. Where protected animals were found, coordinates are rounded. A score is no legal determination unless the responsible agency's method was followed by qualified people.",
  operands: [{ name: "<run...>", summary: "Run folders." }],
  options: [qualityOption, folderOption, titleOption, exactPlacesOption, ...MESSAGE_OPTIONS],
  required: [{ option: folderOption }],
  examples: [
    {
      line: "jartally report run-2023 -o report-2023",
      after: [demoRun("run-2023")],
      explains: "Open report-2023/index.html in a browser.",
    },
    {
      line: "jartally report run-2022 run-2023 -o history",
      after: [demoRun("run-2022"), demoRun("run-2023")],
      explains: "The history of the sites over several runs.",
    },
    {
      line: "jartally report run-2023 --quality sorting-2023 -o report-2023",
      after: [
        demoRun("run-2023"),
        "jartally qc sorting qc-sorting-check.csv --samples sample-log.csv --limit 85 --report sorting-2023",
      ],
      explains: "With the figures of the sorting checks on the page for the batch.",
    },
  ],
  run: async (context, { operands, options }) => {
    const folder = options.get(folderOption);
    if (folder === undefined) throw new UsageError("name the folder to make with --output");
    const { reportStored } = await import("./report-run.ts");
    return reportStored(context, options, {
      runs: operands,
      folder,
      quality: options.get(qualityOption) ?? [],
      title: options.get(titleOption) ?? "Results of the runs",
      exactPlaces: options.get(exactPlacesOption) === true,
    });
  },
});
