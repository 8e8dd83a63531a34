import * as z from "zod";
import { ATTRIBUTES } from "./attributes.ts";
import { LARGEST_TARGET } from "./largest-target.ts";
import { LIFE_STAGES } from "./life-stage.ts";
import { RANKS } from "./taxon-tree.ts";

/**
 * What a reference set writes in its set.json. Numbers that decide something (limits, targets) are read from
 * their decimal text, so 3.75 means exactly 3.75.
 */

const id = z.string().regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, "lower case words joined by hyphens");
const metricId = z.string().regex(/^[a-z][a-z0-9_]*$/, "lower case words joined by underscores");
const text = z.string().trim().min(1);
const monthDay = z.string().regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, "a month and a day as MM-DD");
const decimals = z.int().min(0).max(10);

export const VERIFICATIONS = ["checked", "transcribed", "memory", "invented"] as const;
export type Verification = (typeof VERIFICATIONS)[number];

const stratum = z.strictObject({
  id: text.describe("as it stands in the sample log's stratum column"),
  title: text,
  note: z.string().optional(),
});

const level = z.strictObject({
  rank: z
    .enum([...RANKS, "as-named"])
    .describe("records finer than this are rolled up to it; 'as-named' leaves them"),
  exceptions: z
    .array(z.strictObject({ taxon: text, rank: z.enum([...RANKS, "as-named"]) }))
    .default([])
    .describe(
      "groups kept at another level, for instance Chironomidae at family; the finest group that holds a taxon decides",
    ),
});

const countRule = z.strictObject({
  target: z
    .int()
    .positive()
    .max(LARGEST_TARGET)
    .nullable()
    .describe("animals drawn from a larger sample; null draws nothing"),
  within_percent: z.number().min(0).max(100).optional().describe("tolerance of the target at the tray"),
  draw_above: z
    .enum(["target", "range"])
    .default("target")
    .describe("a sample is drawn down to the target above the target, or only above its tolerance"),
  least: z
    .int()
    .positive()
    .nullable()
    .describe("fewer animals than this and the index is doubtful or not given"),
  below_least: z.enum(["flag", "no-index"]).default("flag"),
});

const policyOverride = z.strictObject({
  taxon: text,
  life_stage: z.enum(LIFE_STAGES).optional().describe("all stages when left out"),
  policy: z.enum(["count", "exclude", "release"]),
  reason: text,
});

const attributeChoice = z.union([
  z.strictObject({ scheme: text.describe("a scheme of the shared attribute tables") }),
  z.strictObject({
    held: z.literal(false),
    method_list: text.describe("the list the method uses and this package does not hold"),
    direction: z
      .enum(["higher-is-tolerant", "higher-is-sensitive", ""])
      .default("")
      .describe("how the numbers of the list run; empty for categories"),
  }),
  z.strictObject({
    own: z.literal(true).describe("every value stands in the set's own taxa.csv"),
    list: text.describe("what the list is called"),
    level: z.string().default(""),
    min: z.number().optional().describe("ends of the scale of a list of numbers"),
    max: z.number().optional(),
    direction: z.enum(["higher-is-tolerant", "higher-is-sensitive", ""]).default(""),
    region: z.string().default(""),
    source: text.optional().describe("id of sources.csv"),
  }),
]);

const covariate = z
  .string()
  .regex(/^(log10:)?[a-z][a-z0-9_]*$/, "a column of the sample log, perhaps with log10: before it");

const adjustment = z.strictObject({
  covariate: covariate.describe("column of the sample log; log10: before it takes its common logarithm"),
  slope: z.number().describe("how much the metric rises with one unit of the covariate, stress apart"),
  at: z.number().default(0).describe("the covariate at which nothing is adjusted"),
});

const metricUse = z
  .strictObject({
    id: metricId.describe("name of the column in the results"),
    metric: metricId.describe("name in the catalogue of metrics").optional(),
    settings: z.record(z.string(), z.unknown()).default({}),
    round_to: decimals
      .optional()
      .describe("decimals to which the exact value is rounded before it is scored"),
    weight: z.number().positive().optional(),
    percent_of: z
      .enum(["value-of-reference", "reference-of-value"])
      .default("value-of-reference")
      .describe(
        "with limits in percent of a reference sample: the site by the reference, or the reference by the site",
      ),
    adjust: adjustment
      .optional()
      .describe("what is scored is the value less slope x (covariate - at); the value is printed as it is"),
    as_published: z
      .literal("gap")
      .optional()
      .describe("the published limits leave a gap, and it is kept; needs tie_rule"),
    tie_rule: z
      .enum(["below", "above", "middle"])
      .optional()
      .describe(
        "the score a value in the gap takes: that of the segment below it, above it, or nearest to the middle of the scores",
      ),
    note: z.string().optional(),
  })
  .refine((use) => (use.as_published === undefined) === (use.tie_rule === undefined), {
    error: "as_published and tie_rule go together: a gap kept as published needs a stated rule",
    path: ["tie_rule"],
  });

const index = z.strictObject({
  method: z.enum(["sum", "mean", "weighted-mean", "scaled-sum", "metric"]),
  percent_of_reference: z
    .boolean()
    .default(false)
    .describe("the index is the sample's as a percentage of the one its reference sample gets"),
  metric: metricId.optional().describe("with method 'metric': the metric whose value is the index"),
  scale_to: z
    .number()
    .positive()
    .optional()
    .describe("with method 'scaled-sum': the index of a perfect sample"),
  best_sum: z
    .number()
    .positive()
    .optional()
    .describe("with method 'scaled-sum': the sum of a perfect sample"),
  missing_metric: z.enum(["blank", "leave-out"]).default("blank"),
  clip_scores: z
    .boolean()
    .default(true)
    .describe("values beyond the outer segments take the nearest end's score"),
  round_to: decimals.optional(),
  unit: z.string().default("points"),
  higher_is: z.enum(["better", "worse"]).default("better"),
});

const ratingClass = z.strictObject({
  rating: text,
  stratum: text.optional().describe("only for this stratum; for all when left out"),
  lower: z.number().optional(),
  lower_included: z.boolean().optional(),
  upper: z.number().optional(),
  upper_included: z.boolean().optional(),
  meaning: z.string().optional().describe("the class in plain words, for reports"),
});

const ratingTable = {
  on: z.enum(["rounded", "unrounded"]),
  gaps: z
    .enum(["none", "between"])
    .default("none")
    .describe("'between': gaps between classes are deliberate and the rating then names both neighbours"),
  classes: z
    .array(ratingClass)
    .describe("from best to worst; empty where the publication gives none or they are not held"),
};

const ratings = z.strictObject({
  id: id.default("default").describe("name by which --classes chooses it"),
  title: text.optional(),
  ...ratingTable,
});

const otherRatings = z.strictObject({
  id: id.describe("name by which --classes chooses it"),
  title: text,
  metric: metricId.optional().describe("the metric whose value is the index when this table is chosen"),
  round_to: decimals.optional().describe("decimals of the index when this table is chosen"),
  unit: text.optional(),
  higher_is: z.enum(["better", "worse"]).optional(),
  ...ratingTable,
});

const check = z.strictObject({
  part: text.describe("which numbers or rules: limits, classes, attribute values, count rule, ..."),
  how: z
    .enum(["reproduced", "seen", "memory", "own", "invented"])
    .describe(
      "published answers reproduce; read in a document; recalled; decided by us where the publication is silent; made up",
    ),
  note: z.string().optional(),
});

/** The schema of set.json. */
export const setDefinitionSchema = z.strictObject({
  $schema: z.string().optional(),
  id,
  title: text,
  version: z.string().regex(/^\d+\.\d+\.\d+$/, "three numbers, for instance 1.0.0"),
  summary: text,
  sources: z.array(text).min(1).describe("ids of sources.csv"),
  verification: z.enum(VERIFICATIONS),
  verification_note: text.describe("what was checked how, in a sentence or two"),
  checks: z.array(check).default([]).describe("the same part by part"),
  calibrated_for: text.describe("region, season, gear and level for which its numbers hold"),
  region: text,
  cautions: z.array(text).default([]),
  based_on: z
    .strictObject({ id: text, version: text, hash: text })
    .optional()
    .describe("the set this one was copied from; how it was checked then is that of the original"),
  scope: z
    .enum(["sample", "batch"])
    .default("sample")
    .describe("whether ambiguous parents are looked for in the sample or over the whole batch"),
  strata: z.array(stratum).min(1),
  season: z.strictObject({ from: monthDay, to: monthDay }).optional(),
  gear: z.string().optional(),
  naming: z
    .enum(["taxa", "groups"])
    .default("taxa")
    .describe(
      "'groups': names are the set's own groups, listed in its taxa.csv, and no tree stands behind them",
    ),
  level,
  count_rule: countRule,
  large_rare: z.enum(["richness", "none"]).default("none"),
  parents: z.enum(["distinct", "remove", "merge", "larger", "distribute"]).default("distinct"),
  without_value_limit_percent: z
    .number()
    .min(0)
    .max(100)
    .default(10)
    .describe("share of animals without an attribute value above which a finding is due"),
  values_incomplete: z
    .boolean()
    .default(false)
    .describe(
      "the attribute tables do not cover the taxa of the method: every score says the share that has a value",
    ),
  count_policy: z.array(policyOverride).default([]),
  attributes: z.partialRecord(z.enum(ATTRIBUTES), attributeChoice).default({}),
  metrics: z.array(metricUse).min(1),
  index,
  ratings,
  other_ratings: z.array(otherRatings).default([]).describe("class tables the user may choose instead"),
});

/** set.json as read and filled with defaults. */
export type SetDefinition = z.infer<typeof setDefinitionSchema>;
/** set.json as written, before defaults. */
export type SetDefinitionInput = z.input<typeof setDefinitionSchema>;
