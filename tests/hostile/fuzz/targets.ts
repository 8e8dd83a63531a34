import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { SMALL_LOG, SMALL_SHEET } from "../../helpers/small-lab.ts";
import { workbook } from "../../helpers/workbook.ts";

/** A file that is damaged, and the commands that read it. */
export interface FuzzTarget {
  readonly name: string;
  /** Path below the lab folder. */
  readonly file: string;
  readonly commands: readonly (readonly string[])[];
}

export const FULL_SHEET = `sample_id,taxon,count,life_stage,grid,container,part,distinct,number_of_taxa,disposition,condition,count_basis,tray_level,mount_fraction,identified_by,identified_on,certainty,reason,slide_or_vial,note
S-1,Baetis,10,larva,3,1 of 2,main,yes,,kept,,counted,1,,AB,2024-06-20,1,,,
S-1,Baetis,2,adult,4,2 of 2,main,,,kept,damaged,counted,1,,AB,2024-06-20,2,small,,"a note, with a comma"
S-1,Margaritifera,1,,,1 of 2,large-rare,,,released,,counted,,,AB,2024-06-20,1,,,
S-2,Chironomidae,40,larva,1,1,main,,3,kept,,counted,1,1/2,AB,2024-06-21,1,,slide 4,
S-2,Leuctra sp. A,7,nymph,2,1,main,no,,kept,early instar,expanded,1,,AB,2024-06-21,3,,,
S-3,Gammarus,30,,1,1,,,,,,,,,,,,,,
`;
const CROSS_TAB = `taxon,order,S-1,S-2,S-3,total
Baetis,Ephemeroptera,10,3,8,21
Leuctra,Plecoptera,10,,,10
Chironomidae,Diptera,,0,12,12
Gammarus,Amphipoda,,,30,30
`;
const FULL_LOG = `sample_id,site_id,collected_on,received_on,project,waterbody,stratum,latitude,longitude,datum,gear,mesh_um,habitat,replicate,area_sampled_m2,tray,grids_sorted,fraction_sorted,target,containers_expected,containers_received,outside_label,inside_label,preservative_fraction,ethanol_percent,preservative,sorter,sorted_on,taxonomist,trainee,duplicate_of,replicate_of,note
S-1,A,2024-06-01,2024-06-02,P,Brook,all,47.1,-124.3,WGS84,D-frame net,500,riffle,1,0.72,5x6,6,0.2,5,2,2,S-1,S-1,0.8,95,ethanol,AB,2024-06-10,CD,yes,,,
S-2,A,2024-06-01,2024-06-02,P,Brook,all,47.1,-124.3,WGS84,D-frame net,500,riffle,2,0.72,5x6,30,1,5,1,1,S-2,S-2,0.8,95,ethanol,AB,2024-06-10,CD,,S-1,,
S-3,B,2024-06-03,2024-06-04,P,River,all,47.2,-124.4,WGS84,Surber,500,run,1,0.36,2x3,6,1,5,1,1,S-3,S-3,0.7,70,ethanol,EF,2024-06-11,CD,,,S-1,a note
`;

const BATCH = ["--samples", "log.csv", "--names", "names.csv", "--reference", "./small-set"];

/** The lab that every case starts from: its files by path. */
export function labFiles(): Map<string, string | Uint8Array> {
  return new Map<string, string | Uint8Array>([
    ["sheet.csv", SMALL_SHEET],
    ["full-sheet.csv", FULL_SHEET],
    ["cross-tab.csv", CROSS_TAB],
    ["packed.csv.gz", gzipSync(SMALL_SHEET)],
    [
      "book.xlsx",
      workbook([
        {
          name: "Bench",
          rows: [
            ["sample_id", "taxon", "count", "note"],
            ["S-1", "Baetis", 10, "x"],
            ["S-2", "Leuctra", 3, null],
          ],
        },
      ]),
    ],
    ["log.csv", SMALL_LOG],
    ["full-log.csv", FULL_LOG],
    ["names.csv", "sheet_name,accepted_name,note\nZzyzx,Gammarus,\nBetis,Baetis,a slip\n"],
    ["alerts.csv", "taxon,kind,note\nDreissena,invasive,\nMargaritifera,protected,\n"],
    [
      "pick-log.csv",
      "sample_id,level,grid,picked,portion,sorter\nS-1,1,3,12,,AB\nS-1,1,5,9,1/2,AB\nS-3,1,1,40,,EF\n",
    ],
    [
      "sorting.csv",
      "sample_id,sorted_count,recovered_count,fraction_checked,sorter\nS-1,90,10,1,AB\nS-2,80,3,0.25,AB\n",
    ],
    [
      "amendment.csv",
      "sample_id,taxon,old_count,new_count,reason,by,on\nS-1,Baetis,10,12,recount,AB,2024-07-01\n",
    ],
    ["values.csv", "sample_id,metric,value,stratum\nS-1,taxa_richness,7,all\nS-1,tolerance_index,4.5,all\n"],
    [
      "scores.csv",
      "sample_id,site_id,status,index,rating,taxa_richness\nS-1,A,scored,12.5,good,5\nS-2,A,scored,11,good,4\n",
    ],
    ["jartally.json", '{"samples": "log.csv", "score": {"seed": "7"}, "quiet": true}\n'],
  ]);
}

/** What is damaged and which commands then read it; a run of the sheet above lies in the folder `run`. */
export const TARGETS: readonly FuzzTarget[] = [
  {
    name: "long-sheet",
    file: "full-sheet.csv",
    commands: [
      ["score", "full-sheet.csv", ...BATCH],
      ["check", "full-sheet.csv", "--samples", "full-log.csv", "--alerts", "alerts.csv"],
      ["subsample", "full-sheet.csv", "--target", "5", "--samples", "full-log.csv"],
      ["subsample", "full-sheet.csv", "--target", "5", "--by", "grid", "--tray", "2x3"],
      ["metrics", "full-sheet.csv", ...BATCH, "--parents", "all"],
      ["explain", "full-sheet.csv", ...BATCH, "--sample", "S-1"],
      ["qc", "identification", "sheet.csv", "full-sheet.csv"],
    ],
  },
  {
    name: "small-sheet",
    file: "sheet.csv",
    commands: [["score", "sheet.csv", ...BATCH, "--layout", "long"]],
  },
  {
    name: "cross-tab",
    file: "cross-tab.csv",
    commands: [
      ["score", "cross-tab.csv", ...BATCH],
      ["check", "cross-tab.csv"],
    ],
  },
  {
    name: "workbook",
    file: "book.xlsx",
    commands: [
      ["check", "book.xlsx"],
      ["score", "book.xlsx", ...BATCH],
    ],
  },
  { name: "packed", file: "packed.csv.gz", commands: [["check", "packed.csv.gz"]] },
  {
    name: "log",
    file: "full-log.csv",
    commands: [
      ["check", "full-sheet.csv", "--samples", "full-log.csv"],
      ["score", "full-sheet.csv", "--samples", "full-log.csv", "--reference", "./small-set"],
      ["grids", "full-log.csv"],
      ["qc", "choose", "full-log.csv"],
      [
        "metrics",
        "full-sheet.csv",
        "--samples",
        "full-log.csv",
        "--reference",
        "./small-set",
        "--replicates",
        "pooled",
      ],
      ["qc", "duplicates", "scores.csv", "--log", "full-log.csv"],
    ],
  },
  { name: "names", file: "names.csv", commands: [["score", "sheet.csv", ...BATCH]] },
  { name: "alerts", file: "alerts.csv", commands: [["check", "full-sheet.csv", "--alerts", "alerts.csv"]] },
  {
    name: "pick-log",
    file: "pick-log.csv",
    commands: [["grids", "status", "pick-log.csv", "--samples", "full-log.csv"]],
  },
  {
    name: "sorting-check",
    file: "sorting.csv",
    commands: [["qc", "sorting", "sorting.csv", "--log", "full-log.csv"]],
  },
  { name: "amendment", file: "amendment.csv", commands: [["rescore", "run", "--amend", "amendment.csv"]] },
  {
    name: "metric-table",
    file: "values.csv",
    commands: [["score", "values.csv", "--from", "metrics", "--reference", "./small-set"]],
  },
  {
    name: "scores",
    file: "scores.csv",
    commands: [["qc", "duplicates", "scores.csv", "--log", "full-log.csv"]],
  },
  {
    name: "set",
    file: "small-set/set.json",
    commands: [
      ["reference", "check", "./small-set"],
      ["reference", "show", "./small-set"],
      ["score", "sheet.csv", ...BATCH],
    ],
  },
  {
    name: "thresholds",
    file: "small-set/thresholds.csv",
    commands: [
      ["reference", "check", "./small-set"],
      ["score", "sheet.csv", ...BATCH],
      ["reference", "compare", "./small-set", "vennaloo-demo"],
    ],
  },
  {
    name: "set-taxa",
    file: "small-set/taxa.csv",
    commands: [
      ["reference", "check", "./small-set"],
      ["score", "sheet.csv", ...BATCH],
    ],
  },
  {
    name: "run-record",
    file: "run/run.json",
    commands: [
      ["verify", "run"],
      ["report", "run", "-o", "made"],
      ["export", "run", "--as", "darwin-core", "-o", "made"],
      ["rescore", "run", "--reference", "./small-set"],
    ],
  },
  {
    name: "run-rows",
    file: "run/rows.csv",
    commands: [
      ["verify", "run"],
      ["report", "run", "-o", "made"],
    ],
  },
  {
    name: "run-samples",
    file: "run/samples.csv",
    commands: [
      ["verify", "run"],
      ["rescore", "run", "--reference", "./small-set"],
    ],
  },
  {
    name: "run-log",
    file: "run/sample-log.csv",
    commands: [
      ["verify", "run"],
      ["export", "run", "--as", "water-quality-exchange", "-o", "made"],
    ],
  },
  {
    name: "run-findings",
    file: "run/reading-findings.csv",
    commands: [
      ["verify", "run"],
      ["report", "run", "-o", "made"],
    ],
  },
  {
    name: "run-checksums",
    file: "run/checksums.txt",
    commands: [
      ["verify", "run"],
      ["rescore", "run", "--reference", "./small-set"],
    ],
  },
  {
    name: "settings",
    file: "jartally.json",
    commands: [
      ["score", "sheet.csv", "--reference", "./small-set"],
      ["check", "sheet.csv"],
    ],
  },
];

/** Words of command lines, wherever they belong. */
export function knownWords(repository: string): string[] {
  const registry = readFileSync(join(repository, "src/cli/registry.ts"), "utf8");
  const commands = [
    ...registry.matchAll(/\bimport \{ (\w+)Command|\bimport \{ (\w+) \} from "\.\/(\w+)\.ts"/g),
  ]
    .map((match) => match[3] ?? match[1] ?? "")
    .filter((name) => /^[a-z]+$/.test(name));
  return [
    ...commands,
    ...[
      "grids",
      "status",
      "qc",
      "sorting",
      "choose",
      "duplicates",
      "identification",
      "reference",
      "list",
      "show",
    ],
    ...[
      "new",
      "compare",
      "help",
      "sheet.csv",
      "full-sheet.csv",
      "log.csv",
      "full-log.csv",
      "names.csv",
      "small-set",
    ],
    ...[
      "./small-set",
      "vennaloo-demo",
      "run",
      "*.csv",
      "-",
      ".",
      "nope.csv",
      "book.xlsx#Bench",
      "made",
      "out.csv",
    ],
    ...[
      "out.json",
      "S-1",
      "5",
      "0",
      "7",
      "random",
      "none",
      "5x6",
      "20%",
      "csv",
      "json",
      "ndjson",
      "table",
      "tsv",
    ],
    ...[
      "--samples",
      "--names",
      "--reference",
      "--target",
      "--seed",
      "--format",
      "-o",
      "--output",
      "--force",
      "-f",
    ],
    ...["--run", "--quiet", "-q", "--debug", "--strict", "--findings", "--max-findings", "--color", "always"],
    ...[
      "--threads",
      "--stratum",
      "all",
      "--layout",
      "long",
      "--all-or-nothing",
      "--by",
      "grid",
      "individual",
    ],
    ...[
      "--within",
      "--stop-at",
      "lower",
      "--at-least",
      "--last-grid",
      "split",
      "--tray",
      "--draws",
      "--expected",
    ],
    ...[
      "--summary",
      "--sample",
      "--metric",
      "taxa_richness",
      "--only",
      "--parents",
      "--replicates",
      "pooled",
    ],
    ...[
      "--list",
      "--from",
      "metrics",
      "counts",
      "--as",
      "darwin-core",
      "--into",
      "--amend",
      "--why",
      "--log",
    ],
    ...[
      "--fail-on-change",
      "--title",
      "--encoding",
      "latin1",
      "--no-settings",
      "--today",
      "2024-07-01",
      "--",
      "--help",
    ],
    ...[
      "--version",
      "-h",
      "--pages",
      "--level",
      "--write-names",
      "--alerts",
      "alerts.csv",
      "--attributes",
      "--classes",
    ],
  ];
}
