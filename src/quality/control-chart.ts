import { compareCodePoints } from "../model/order.ts";
import type { Outcome } from "./judgement.ts";

/** One figure of one person at one time. */
export interface ControlPoint {
  readonly sampleId: string;
  /** ISO 8601 date, or empty when it is not known; such points stand last, in the order given. */
  readonly date: string;
  /** Percent; undefined where the figure could not be computed (a gap in the line). */
  readonly value: number | undefined;
  readonly outcome: Outcome;
}

/** A person's figures over time against a limit: what a control chart draws, without the drawing. */
export interface ControlChart {
  readonly person: string;
  /** What is charted, for instance "Sorting efficiency". */
  readonly figure: string;
  readonly limit: number | undefined;
  readonly side: "at-least" | "at-most";
  readonly points: readonly ControlPoint[];
  /** Mean of the values there are; undefined of none. */
  readonly mean: number | undefined;
  readonly failures: number;
}

export interface ControlInput extends ControlPoint {
  readonly person: string;
}

/** One chart per person, in code point order of the names; points by date, then in the order given. */
export function controlCharts(
  inputs: readonly ControlInput[],
  about: { readonly figure: string; readonly limit: number | undefined; readonly side: ControlChart["side"] },
): ControlChart[] {
  const people = new Map<string, ControlPoint[]>();
  for (const { person, ...point } of inputs) {
    const points = people.get(person);
    if (points === undefined) people.set(person, [point]);
    else points.push(point);
  }
  return [...people]
    .sort(([a], [b]) => compareCodePoints(a, b))
    .map(([person, points]) => {
      const inTime = [...points].sort(byDate);
      const values = inTime.flatMap(({ value }) => (value === undefined ? [] : [value]));
      return {
        person,
        ...about,
        points: inTime,
        mean: values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length,
        failures: inTime.filter((point) => point.outcome === "fail").length,
      };
    });
}

function byDate(a: ControlPoint, b: ControlPoint): number {
  if (a.date === "" || b.date === "") return a.date === b.date ? 0 : a.date === "" ? 1 : -1;
  return compareCodePoints(a.date, b.date);
}
