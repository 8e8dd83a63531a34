import type { SetDefinition } from "../../model/reference-set.ts";
import type { Side } from "./side.ts";
import { targetOf } from "./side.ts";
import type { WhyRow } from "./why-sample.ts";

/** Parts of a set.json whose rules are compared, and the kind of difference that they are. */
const PARTS: readonly {
  readonly cause: "names" | "rules";
  readonly item: string;
  readonly of: (definition: SetDefinition, side: Side) => unknown;
}[] = [
  { cause: "names", item: "scope", of: ({ scope }) => scope },
  { cause: "names", item: "naming", of: ({ naming }) => naming },
  { cause: "names", item: "level", of: ({ level }) => level },
  { cause: "names", item: "parents", of: ({ parents }) => parents },
  { cause: "names", item: "large_rare", of: ({ large_rare }) => large_rare },
  { cause: "names", item: "count_policy", of: ({ count_policy }) => count_policy },
  { cause: "rules", item: "target", of: (_, side) => targetOf(side) ?? "none" },
  {
    cause: "rules",
    item: "count_rule",
    of: ({ count_rule: { target: _, ...rest } }) => rest,
  },
  { cause: "rules", item: "draw", of: (_, side) => side.choices.algorithm },
  { cause: "rules", item: "index", of: ({ index }) => index },
  {
    cause: "rules",
    item: "weights",
    of: ({ metrics }) => Object.fromEntries(metrics.map(({ id, weight }) => [id, weight ?? 1])),
  },
  {
    cause: "rules",
    item: "classes",
    of: ({ ratings }) => ({
      on: ratings.on,
      gaps: ratings.gaps,
      classes: ratings.classes.map(({ meaning: _, ...one }) => one),
    }),
  },
];

/** Rules of two sets that differ, each with what it says on either side. */
export function ruleDifferences(before: Side, after: Side): WhyRow[] {
  return PARTS.flatMap(({ cause, item, of }): WhyRow[] => {
    const [was, is] = [of(before.set.definition, before), of(after.set.definition, after)].map(textOf);
    if (was === undefined || is === undefined || was === is) return [];
    const file = ({ set }: Side) => `${set.folder}/set.json`;
    return [
      {
        cause,
        item,
        what: "rule",
        before: was,
        after: is,
        placeBefore: file(before),
        placeAfter: file(after),
      },
    ];
  });
}

function textOf(value: unknown): string {
  return typeof value === "string" ? value : JSON.stringify(value);
}
