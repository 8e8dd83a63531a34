import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import type { Exact } from "../../model/exact.ts";
import { toNumber } from "../../model/exact.ts";
import type { ComparedSample } from "./compare.ts";
import { CHANGE_KINDS } from "./kinds.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const number = (name: string): OutputColumn => ({ name, kind: "number" });

/** Columns of a re-score: one row a sample. */
export const RESCORE_COLUMNS: readonly OutputColumn[] = [
  text("sample_id"),
  number("index_before"),
  number("index_after"),
  text("rating_before"),
  text("rating_after"),
  number("change"),
  ...CHANGE_KINDS.map((kind) => number(`cause_${kind}`)),
  text("attribution"),
  text("why"),
  text("status_before"),
  text("status_after"),
  text("run"),
];

/** What a row says of the causes: they add up to the change, or cannot be told apart (`why`). */
export type Attribution = "attributed" | "not-attributable";

/** A sample's row. */
export function rescoreRow(sample: ComparedSample, run: string): OutputRow {
  const { before, after, change, causes, notAttributable } = sample;
  const attribution: Attribution = causes === undefined ? "not-attributable" : "attributed";
  return [
    sample.sampleId,
    cell(before.index),
    cell(after.index),
    before.rating,
    after.rating,
    cell(change),
    ...CHANGE_KINDS.map((kind) => cell(causes?.[kind])),
    attribution,
    notAttributable,
    before.status,
    after.status,
    run,
  ];
}

function cell(value: Exact | undefined): number | null {
  return value === undefined ? null : toNumber(value);
}
