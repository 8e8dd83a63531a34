import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { freshFolder } from "./run-jartally.ts";

/** What a small set may say otherwise. */
export interface SmallSet {
  readonly folder?: string;
  /** Over the parts of set.json below. */
  readonly definition?: Readonly<Record<string, unknown>>;
  /** Rows of thresholds.csv: metric, lower, upper, score at lower, score at upper; limits belong to it. */
  readonly thresholds?: readonly (readonly [string, string, string, string, string])[];
  /** Tolerance values by taxon. */
  readonly tolerance?: Readonly<Record<string, string>>;
}

/** Two metrics scored along straight lines and summed; everything is made up for the arithmetic. */
const THRESHOLDS: NonNullable<SmallSet["thresholds"]> = [
  ["tolerance_index", "0", "10", "10", "0"],
  ["taxa_richness", "0", "10", "0", "10"],
];
const TOLERANCE = { Baetis: "5", Leuctra: "0", Chironomidae: "6", Gammarus: "4" };

/** Writes a set folder that stands on its own, below a folder; returns its path. */
export function writeSmallSet(lab: string, set: SmallSet = {}): string {
  const folder = join(lab, set.folder ?? "small-set");
  mkdirSync(folder, { recursive: true });
  const definition = {
    id: "small-set",
    title: "Small set (made up for tests)",
    version: "1.0.0",
    summary: "Two metrics in a sum.",
    sources: ["rbp1999"],
    verification: "invented",
    verification_note: "Made up for tests.",
    calibrated_for: "Nothing.",
    region: "nowhere",
    strata: [{ id: "all", title: "All" }],
    level: { rank: "genus", exceptions: [{ taxon: "Chironomidae", rank: "family" }] },
    count_rule: { target: null, least: null },
    attributes: {
      tolerance: { own: true, list: "made up", min: 0, max: 10, direction: "higher-is-tolerant" },
    },
    metrics: [{ id: "tolerance_index" }, { id: "taxa_richness" }],
    index: { method: "sum" },
    ratings: {
      on: "unrounded",
      classes: [
        { rating: "good", lower: 10, lower_included: true },
        { rating: "fair", lower: 6, lower_included: true, upper: 10, upper_included: false },
        { rating: "poor", upper: 6, upper_included: false },
      ],
    },
    ...set.definition,
  };
  const thresholds = (set.thresholds ?? THRESHOLDS).map(
    ([metric, lower, upper, low, high]) => `all,${metric},${lower},yes,${upper},yes,${low},${high}\n`,
  );
  const taxa = Object.entries({ ...TOLERANCE, ...set.tolerance }).map(
    ([taxon, value]) => `${taxon},tolerance,${value}\n`,
  );
  writeFileSync(join(folder, "set.json"), JSON.stringify(definition, undefined, 2));
  writeFileSync(
    join(folder, "thresholds.csv"),
    `stratum,metric,lower,lower_included,upper,upper_included,score_at_lower,score_at_upper\n${thresholds.join("")}`,
  );
  writeFileSync(join(folder, "taxa.csv"), `taxon,attribute,value\n${taxa.join("")}`);
  return folder;
}

/** A bench sheet of three samples; the second holds a name that is no taxon. */
export const SMALL_SHEET = `sample_id,taxon,count,life_stage,container
S-1,Baetis,10,larva,1
S-1,Leuctra,10,larva,1
S-2,Baetis,3,larva,1
S-2,Zzyzx,1,larva,1
S-3,Gammarus,30,,1
S-3,Chironomidae,12,larva,2
S-3,Baetis,8,larva,2
S-3,Glossosoma,4,case,2
`;

export const SMALL_LOG = `sample_id,site_id,collected_on,note
S-3,C,2024-06-03,"third, and last"
S-1,A,2024-06-01,
S-2,B,2024-06-02,=1+1
`;

/** A fresh lab folder with the small set, a sheet and a log. */
export function smallLab(set: SmallSet = {}): string {
  const lab = freshFolder();
  writeSmallSet(lab, set);
  writeFileSync(join(lab, "sheet.csv"), SMALL_SHEET);
  writeFileSync(join(lab, "log.csv"), SMALL_LOG);
  return lab;
}
