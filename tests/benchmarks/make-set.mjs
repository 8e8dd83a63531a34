#!/usr/bin/env node
// Writes a reference set of five metrics for a sheet of generate-sheet.mjs, and the same numbers as plain tables for
// a program that is compared with. With --ten it is a set of ten metrics whose fixed count is 200 animals, with --one
// such a set of the number of taxa alone. Every value is invented: nothing here is for use on a real sample.
//   node tests/benchmarks/make-set.mjs FOLDER [--ten | --one]
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

/** Limits between the scores 1, 3 and 5: low, high, and whether high values are good. */
const FIVE = {
  taxa_richness: [23.5, 31.5, true],
  ept_richness: [8.5, 14.5, true],
  percent_dominant_taxon: [24.37, 38.61, false],
  tolerance_index: [4.0137, 5.2171, false],
  shannon_diversity_e: [2.207, 2.713, true],
};
const TEN = {
  ...FIVE,
  ephemeroptera_richness: [3.5, 6.5, true],
  plecoptera_richness: [2.5, 4.5, true],
  trichoptera_richness: [3.5, 6.5, true],
  percent_ept: [24.37, 48.61, true],
  percent_chironomidae: [12.41, 31.83, false],
};
const ONE = { taxa_richness: FIVE.taxa_richness };
/** Each size of a set: its metrics, the limits of its ratings, and the animals it draws. */
const SETS = {
  "--one": { limits: ONE, ratings: [2, 4], animals: 200 },
  "--ten": { limits: TEN, ratings: [24.5, 36.5], animals: 200 },
};
const size = Object.keys(SETS).find((word) => process.argv.includes(word));
const chosen = SETS[size] ?? { limits: FIVE, ratings: [12.5, 18.5], animals: null };
const STRATA = ["upland", "valley", "lowland"];

const folder = process.argv.slice(2).find((word) => !word.startsWith("--"));
if (folder === undefined) {
  console.error("usage: make-set.mjs FOLDER [--ten | --one]");
  process.exitCode = 2;
} else makeSet();

function makeSet() {
  const tree = treeOf();
  const genera = [...tree.values()].filter(({ rank }) => rank === "genus").map(({ name }) => name);
  const values = genera.map((name) => ({
    name,
    tolerance: invented(name),
    isEpt: isEpt(name, tree) ? 1 : 0,
  }));
  const set = join(folder, "archive-set");
  mkdirSync(set, { recursive: true });
  writeFileSync(join(set, "set.json"), `${JSON.stringify(definition(), null, 2)}\n`);
  writeFileSync(join(set, "thresholds.csv"), thresholds());
  const own = values.map(({ name, tolerance }) => `${name},tolerance,${tolerance},rbp1999,memory,\n`);
  writeFileSync(join(set, "taxa.csv"), `taxon,attribute,value,source_id,verified,note\n${own.join("")}`);
  const plain = values.map(({ name, tolerance, isEpt }) => `${name},${isEpt},${tolerance}\n`);
  writeFileSync(join(folder, "plain-taxa.csv"), `taxon,ept,tolerance\n${plain.join("")}`);
}

function treeOf() {
  const text = readFileSync(new URL("../../reference-tables/taxa/taxa.csv", import.meta.url), "utf8");
  const rows = text.split("\n").map((line) => line.split(","));
  return new Map(rows.map(([name, rank, parent]) => [name, { name, rank, parent }]));
}

function isEpt(name, tree) {
  for (let at = tree.get(name); at !== undefined; at = tree.get(at.parent))
    if (["Ephemeroptera", "Plecoptera", "Trichoptera"].includes(at.name)) return true;
  return false;
}

/** A tolerance from 0 to 10 that comes from nothing but the letters of the name. */
function invented(name) {
  let hash = 7;
  for (const letter of name) hash = (hash * 31 + letter.charCodeAt(0)) % 10007;
  return (hash % 101) / 10;
}

function definition() {
  const [fair, good] = chosen.ratings;
  const metrics = Object.keys(chosen.limits);
  return {
    id: "archive-set",
    title: "Set for timing (invented)",
    version: "1.0.0",
    summary: `Metrics (${metrics.length}) scored 1, 3 or 5 and summed. Invented, for timing only.`,
    sources: ["rbp1999"],
    verification: "invented",
    verification_note: "Every number is invented.",
    checks: [{ part: "everything", how: "invented" }],
    calibrated_for: "Nothing.",
    region: "nowhere",
    cautions: ["For timing only."],
    scope: "sample",
    strata: STRATA.map((id) => ({ id, title: id })),
    gear: "none",
    level: { rank: "as-named" },
    count_rule: { target: chosen.animals, least: null },
    large_rare: "richness",
    parents: "distinct",
    without_value_limit_percent: 100,
    attributes: {
      tolerance: { own: true, list: "invented", min: 0, max: 10, direction: "higher-is-tolerant" },
    },
    metrics: metrics.map((id) => ({ id })),
    index: { method: "sum", missing_metric: "blank", clip_scores: true },
    ratings: {
      on: "rounded",
      classes: [
        { rating: "good", lower: good, lower_included: true },
        { rating: "fair", lower: fair, lower_included: true, upper: good, upper_included: false },
        { rating: "poor", upper: fair, upper_included: false },
      ],
    },
  };
}

function thresholds() {
  const lines = [
    "stratum,metric,basis,lower,lower_included,upper,upper_included,score_at_lower,score_at_upper,covariate,lower_slope,upper_slope,note",
  ];
  for (const [metric, [low, high, isHighGood]] of Object.entries(chosen.limits)) {
    const [first, last] = isHighGood ? [1, 5] : [5, 1];
    lines.push(`,${metric},value,,,${low},no,${first},${first},,,,`);
    lines.push(`,${metric},value,${low},yes,${high},no,3,3,,,,`);
    lines.push(`,${metric},value,${high},yes,,,${last},${last},,,,`);
  }
  return `${lines.join("\n")}\n`;
}
