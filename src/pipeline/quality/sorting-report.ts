import type { OutputRow } from "../../files/formats/define.ts";
import type { FindingCode } from "../../findings/register.ts";
import { toNumber } from "../../model/exact.ts";
import { controlCharts } from "../../quality/control-chart.ts";
import { figureText } from "../../quality/figure-text.ts";
import type { SortingRule } from "../../quality/sorting.ts";
import type { SortingGroup, SortingGrouping } from "../../quality/sorting-groups.ts";
import { groupSortingChecks } from "../../quality/sorting-groups.ts";
import type { SorterLot, SortingStep } from "../../quality/sorting-steps.ts";
import { sortingStepText, stepForSample, stepForSorterLot } from "../../quality/sorting-steps.ts";
import type { QualityTable } from "../../report/quality-table.ts";
import type { QualityRun } from "./quality-run.ts";
import { cell, countText, number, text } from "./quality-run.ts";
import type { PlacedCheck, SortingChoices } from "./sorting-run.ts";

export interface SortingResult extends SortingChoices {
  readonly checks: readonly PlacedCheck[];
  readonly refused: ReadonlyMap<string, readonly FindingCode[]>;
  /** Undefined without a sample log. */
  readonly lots: readonly SorterLot[] | undefined;
}

/** Tables, charts and sentences of a sorting check. */
export function sortingReport(
  result: SortingResult,
): Pick<QualityRun, "tables" | "charts" | "summary" | "rules"> {
  const { checks, rule } = result;
  const count = (outcome: string) => checks.filter(({ figure }) => figure.outcome === outcome).length;
  const [all] = groupSortingChecks(
    checks.map((check) => ({ ...check, sorter: "" })),
    "sorter",
  );
  const parts = [
    `${countText(checks.length, "check")}: ${count("pass")} passed, ${count("fail")} failed`,
    ...(count("undecided") > 0 ? [`${count("undecided")} at an open limit`] : []),
    ...(count("not-computable") > 0 ? [`${count("not-computable")} not computable`] : []),
    ...(all?.meanEfficiency === undefined
      ? []
      : [`mean efficiency ${figureText(all.meanEfficiency)} percent`]),
    ...(result.refused.size > 0 ? [`${result.refused.size} refused`] : []),
  ];
  return {
    tables: [
      samplesTable(result),
      stepsTable(result),
      groupTable(checks, "sorter", "sorters", "Sorters"),
      groupTable(checks, "lot", "lots", "Lots"),
      groupTable(checks, "month", "months", "Months"),
    ],
    charts: controlCharts(
      checks.map(({ figure, sorter, sortedOn }) => ({
        person: sorter,
        sampleId: figure.sampleId,
        date: sortedOn,
        value: figure.efficiency === undefined ? undefined : toNumber(figure.efficiency),
        outcome: figure.outcome,
      })),
      {
        figure: "Sorting efficiency",
        limit: rule.kind === "efficiency" ? toNumber(rule.limitPercent) : undefined,
        side: "at-least",
      },
    ),
    summary: parts.join(", "),
    rules: [ruleText(rule), ...RULES],
  };
}

const RULES = [
  "Sorting efficiency = 100 x sorted / (sorted + recovered) (Barbour and others 1999, EPA 841-B-99-002, appendix A-3 form 3). Where only a part of the residue was checked the animals found are divided by that part (common practice, no source), and the figure is an estimate.",
  "A group fails when one of its samples fails; its efficiency is given from the sums (pooled) and as the mean of the samples. A second share of a failed lot follows chapter 7.3 of the same manual.",
];

function ruleText(rule: SortingRule): string {
  if (rule.kind === "efficiency")
    return `A sample passes at ${figureText(rule.limitPercent)} percent and above.`;
  const atLimit = {
    undecided: "exactly that many is not spoken of in the manual and stays open",
    pass: "exactly that many passes by the laboratory's own rule",
    fail: "exactly that many fails by the laboratory's own rule",
  }[rule.atLimit];
  return `A sample passes when fewer than ${figureText(rule.limit)} animals were missed, or fewer than ${figureText(rule.percentOfLarger)} percent of the sorted animals where that is more (chapter 7 of the same manual); ${atLimit}.`;
}

function samplesTable({ checks, refused, rule }: SortingResult): QualityTable {
  const empty = Array.from({ length: 6 }, () => null);
  return {
    id: "samples",
    title: "Samples",
    explains:
      "One row a check. missed is the number recovered, expanded where only a part of the residue was checked (estimate: yes). missed_by is how far a failed sample is from its limit. date is the day of sorting, or what date_is names where the log does not give it.",
    brief: [
      "sample_id",
      "sorter",
      "lot",
      "sorted_count",
      "recovered_count",
      "fraction_checked",
      "missed",
      "efficiency_percent",
      "outcome",
    ],
    columns: [
      text("sample_id"),
      text("sorter"),
      text("lot"),
      text("date"),
      text("date_is"),
      number("sorted_count"),
      number("recovered_count"),
      number("fraction_checked"),
      number("missed"),
      text("estimate"),
      number("efficiency_percent"),
      text("rule"),
      number("limit"),
      text("outcome"),
      number("missed_by"),
      text("next_step"),
    ],
    rows: [
      ...checks.map(({ figure, sorter, lot, sortedOn, dateIs }): OutputRow => {
        const step = stepForSample(figure);
        return [
          figure.sampleId,
          sorter,
          lot,
          sortedOn,
          dateIs,
          figure.sorted,
          figure.recovered,
          toNumber(figure.fractionChecked),
          toNumber(figure.missed),
          figure.isEstimate ? "yes" : "no",
          cell(figure.efficiency),
          rule.kind,
          toNumber(figure.limit),
          figure.outcome,
          cell(figure.missedBy),
          step === undefined ? "" : sortingStepText(step),
        ];
      }),
      ...[...refused].map(
        ([sampleId, codes]): OutputRow => [
          sampleId,
          "",
          "",
          "",
          "",
          ...empty.slice(0, 4),
          "",
          null,
          rule.kind,
          null,
          "refused",
          null,
          `correct its row: ${codes.join(";")}`,
        ],
      ),
    ],
  };
}

/** What to do next, the most pressing first: lots, then samples in the order of the sheet. */
function stepsTable({ checks, lots, share }: SortingResult): QualityTable {
  const steps: { step: SortingStep; sorter: string; lot: string }[] = [];
  for (const group of groupSortingChecks(checks, "sorter-lot")) {
    const own = checks.filter((check) => check.sorter === group.sorter && check.lot === group.lot);
    const whole = lots?.find((one) => one.sorter === group.sorter && one.lot === group.lot);
    const step = stepForSorterLot(own, whole, share);
    if (step !== undefined) steps.push({ step, sorter: group.sorter, lot: group.lot });
  }
  const order: readonly SortingStep["kind"][] = [
    "check-rest",
    "check-second-share",
    "recount",
    "decide",
    "add-recovered",
  ];
  for (const check of checks) {
    const step = stepForSample(check.figure);
    if (step !== undefined) steps.push({ step, sorter: check.sorter, lot: check.lot });
  }
  const sorted = order.flatMap((kind) => steps.filter(({ step }) => step.kind === kind));
  return {
    id: "steps",
    title: "What to do next",
    explains: "One row a step, the most pressing first.",
    brief: ["kind", "step"],
    columns: [text("kind"), text("sample_id"), text("sorter"), text("lot"), text("step")],
    rows: sorted.map(({ step, sorter, lot }) => [
      step.kind,
      "sampleId" in step ? step.sampleId : "",
      sorter,
      lot,
      sortingStepText(step),
    ]),
  };
}

function groupTable(
  checks: readonly PlacedCheck[],
  grouping: SortingGrouping,
  id: string,
  title: string,
): QualityTable {
  const nameOf = (group: SortingGroup) => group.month || group.lot || group.sorter;
  return {
    id,
    title,
    explains:
      "efficiency_pooled is from the sums of animals, efficiency_mean the mean of the samples. One failed sample fails the group.",
    brief: [grouping, "checks", "passed", "failed", "efficiency_pooled", "efficiency_mean", "outcome"],
    columns: [
      text(grouping),
      number("checks"),
      number("passed"),
      number("failed"),
      number("undecided"),
      number("not_computable"),
      number("sorted"),
      number("missed"),
      number("efficiency_pooled"),
      number("efficiency_mean"),
      number("efficiency_lowest"),
      text("outcome"),
    ],
    rows: groupSortingChecks(checks, grouping).map((group) => [
      nameOf(group),
      group.checks,
      group.passed,
      group.failed,
      group.undecided,
      group.notComputable,
      group.sorted,
      toNumber(group.missed),
      cell(group.pooledEfficiency),
      cell(group.meanEfficiency),
      cell(group.lowestEfficiency),
      group.outcome,
    ]),
  };
}
