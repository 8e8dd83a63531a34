import type { OutputColumn } from "../files/formats/define.ts";

/** A column of the exchange: its name, and the most characters it takes. */
export interface LimitedColumn extends OutputColumn {
  readonly most?: number;
}

const text = (name: string, most: number): LimitedColumn => ({ name, kind: "text", most });
const number = (name: string): LimitedColumn => ({ name, kind: "number" });

/*
 * Names and limits as in the JSON Schema of the Water Quality Exchange, version 3.0.209
 * (https://github.com/datastreamapp/wqx), biological results and activity metrics. Its limits of the index
 * columns are copies of other columns', so the index table uses those of the same names in the metric table, and
 * the longest comment the exchange takes.
 */
const ACTIVITY = [
  text("Project ID", 35),
  text("Monitoring Location ID", 55),
  text("Activity ID", 35),
  text("Activity Type", 69),
  text("Activity Media Name", 10),
  text("Activity Start Date", 10),
  text("Assemblage Sampled Name", 26),
] as const;

/** Animals. */
export const RESULT_COLUMNS: readonly LimitedColumn[] = [
  ...ACTIVITY,
  text("Sample Collection Equipment Comment", 4000),
  number("Net Mesh Size Measure"),
  text("Net Mesh Size Unit", 12),
  text("Chemical Preservative Used", 250),
  text("Biological Intent", 17),
  text("Subject Taxonomic Name", 131),
  text("Unidentified Species ID", 120),
  text("Frequency Class Descriptor", 23),
  text("Characteristic Name", 255),
  number("Result Value"),
  text("Result Unit", 12),
  text("Result Value Type", 20),
  text("Result Status ID", 11),
  text("Result Comment", 4000),
];

/** Metrics with their scores. */
export const METRIC_COLUMNS: readonly LimitedColumn[] = [
  ...ACTIVITY,
  text("Metric Type ID", 35),
  text("Metric Type Context", 50),
  number("Activity Metric Value"),
  text("Activity Metric Value Unit", 12),
  number("Activity Metric Score"),
  text("Activity Metric Comment", 4000),
  text("Index ID", 35),
];

/** Indices. */
export const INDEX_COLUMNS: readonly LimitedColumn[] = [
  text("Index ID", 35),
  text("Index Type ID", 35),
  number("Index Score"),
  text("Index Qualifier Code", 5),
  text("Index Comment", 4000),
  text("Index Calculated Date", 10),
  text("Monitoring Location ID", 55),
];
