import * as z from "zod";
import type { MetricEntry, PrepareKit } from "../define.ts";
import { defineMetric } from "../define.ts";
import { filterSetting, filterShape, limitNumber, told } from "../filter-settings.ts";
import { pointsForm } from "../forms/points-form.ts";
import { BARBOUR_1999, BECK_1955, CHALFANT_2012 } from "../references.ts";
import { onDitch, onRiffle, onSheet } from "../worked-sheets.ts";

const POINT_FACTS = {
  unit: "points",
  range: [0, Number.POSITIVE_INFINITY],
  whenEmpty: "zero",
  stress: "falls",
  whenMultiplied: "same",
} as const;

/** Points of taxa by class: Beck's index in its versions, and any index of that form. */
export const POINTS: readonly MetricEntry[] = [
  defineMetric({
    ...POINT_FACTS,
    id: "taxa_points",
    name: "Points of taxa by class",
    alsoCalled: ["Florida index"],
    summary:
      "Every taxon brings the points of the first class of the set that it passes. A class is a filter: named taxa, tolerance values, feeding groups.",
    formula: "sum over taxa of the points of their class",
    needs: [],
    references: [BARBOUR_1999],
    examples: [
      onRiffle(13, "2 x 5 stoneflies and caddisflies + 1 x 3 mayflies = 13", {
        settings: {
          classes: [
            { points: 2, within: ["Plecoptera", "Trichoptera"] },
            { points: 1, within: "Ephemeroptera" },
          ],
        },
      }),
      onSheet(
        [
          ["Ephemeroptera", 47, 5],
          ["Turbellaria", 1],
        ],
        4,
        "each row once: 3 x 1 mayfly row + 1 x 1 flatworm row = 4",
        {
          settings: {
            classes: [
              { points: 3, within: "Ephemeroptera" },
              { points: 1, within: "Turbellaria" },
            ],
            each: "row",
          },
        },
      ),
    ],
    settings: z.strictObject({
      ...filterShape,
      classes: told(
        z
          .array(z.strictObject({ points: z.number({ error: "must be a number" }).min(0), ...filterShape }), {
            error: "must be a list of classes",
          })
          .min(1, { error: "must not be empty" }),
        "a list of {points, filter}, required",
        "points and the taxa that bring them; a taxon belongs to the first class that it passes",
      ),
      each: told(
        z.enum(["taxon", "row"], { error: "must be taxon or row" }).default("taxon"),
        "taxon or row",
        "whether a row that stands for several taxa brings the points of each or once",
      ),
    }),
    measure: (chosen, kit) =>
      pointsForm(
        kit,
        [chosen],
        chosen.classes.map(({ points, ...filter }) => ({ points, filter })),
        chosen.each,
      ),
  }),
  defineMetric({
    ...POINT_FACTS,
    id: "becks_index",
    name: "Beck's biotic index",
    summary:
      "Twice the taxa of class 1 and once the taxa of class 2. Beck listed the classes by taxon; here they are cut by tolerance values that the set chooses (taxa lists go into taxa_points).",
    formula: "2 x taxa of class 1 + taxa of class 2",
    needs: ["tolerance"],
    references: [BECK_1955],
    examples: [
      onRiffle(15, "2 x 6 taxa of 0 and 1 + Hexatoma, Hydropsyche, Optioservus = 15", {
        settings: { class_1_at_most: 1, class_2_at_most: 4 },
      }),
      onDitch(2, "no taxon up to 5, Corbicula fluminea and Hydroptila up to 6: 2 x 0 + 2 = 2", {
        settings: { class_1_at_most: 5, class_2_at_most: 6 },
      }),
    ],
    settings: z.strictObject({
      ...filterShape,
      class_1_at_most: told(limitNumber, "number, required", "highest tolerance value of class 1"),
      class_2_at_most: told(limitNumber, "number, required", "highest tolerance value of class 2"),
    }),
    measure: (chosen, kit) => {
      checkDirection(kit);
      const { class_1_at_most: first, class_2_at_most: second } = chosen;
      if (second <= first) kit.problem('setting "class_2_at_most" must be above "class_1_at_most"');
      const classes = [
        { points: 2, filter: { tolerance_at_most: first } },
        { points: 1, filter: { tolerance_at_most: second } },
      ];
      return pointsForm(kit, [chosen], classes, "taxon");
    },
  }),
  defineMetric({
    ...POINT_FACTS,
    id: "becks_index_v3",
    name: "Beck's index, version 3",
    summary:
      "Three points for each taxon with the tolerance value 0, two for 1, one for 2. Values with decimals go to the nearest whole number, halves upwards (our choice: the method knows whole values only).",
    formula: "3 x taxa of value 0 + 2 x taxa of value 1 + taxa of value 2",
    needs: ["tolerance"],
    references: [CHALFANT_2012],
    examples: [
      onRiffle(16, "3 x 3 taxa of 0 + 2 x 3 taxa of 1 + 1 x Hexatoma = 16"),
      onSheet(
        [
          ["Epeorus", 1],
          ["Sweltsa", 1],
          ["Hexatoma", 1],
          ["Baetis", 1],
        ],
        6,
        "0.4 goes to 0: 3; 0.5 and 1.5 go up to 1 and 2: 2 + 1; 2.5 goes up to 3: 0; 3 + 2 + 1 = 6",
        { attributes: { tolerance: { Epeorus: "0.4", Sweltsa: "0.5", Hexatoma: "1.5", Baetis: "2.5" } } },
      ),
    ],
    settings: filterSetting,
    measure: (chosen, kit) => {
      checkDirection(kit);
      const classes = [
        { points: 3, filter: { tolerance_below: 0.5 } },
        { points: 2, filter: { tolerance_below: 1.5 } },
        { points: 1, filter: { tolerance_below: 2.5 } },
      ];
      return pointsForm(kit, [chosen], classes, "taxon");
    },
  }),
];

/** Beck's classes run from 0 for the most sensitive; a scheme that runs the other way would turn them round. */
function checkDirection(kit: PrepareKit): void {
  const { scheme } = kit.attribute("tolerance");
  if (scheme.direction === "higher-is-sensitive")
    kit.problem(`it needs low values for sensitive taxa, and ${scheme.scheme} has high ones`);
}
