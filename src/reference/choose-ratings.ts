import { closestTexts } from "../metrics/closest.ts";
import { ratingClassesOf } from "./rating-classes.ts";
import type { ReferenceSet } from "./set.ts";

/** A class table that the set does not have: the user's word is wrong. */
export class UnknownClassesError extends Error {
  readonly hint: string;

  constructor(set: ReferenceSet, name: string) {
    const ids = classTables(set).map((table) => table.id);
    const near = closestTexts(name, ids);
    super(
      `the set ${set.definition.id} has no class table "${name}"${near.length === 0 ? "" : `; did you mean ${near.map((one) => `"${one}"`).join(" or ")}?`}`,
    );
    this.name = "UnknownClassesError";
    this.hint = `it has ${ids.join(", ")}`;
  }
}

/** The class tables of a set, its usual one first. */
export function classTables({
  definition,
}: ReferenceSet): readonly { readonly id: string; readonly title: string }[] {
  const { ratings, other_ratings: others } = definition;
  return [
    { id: ratings.id, title: ratings.title ?? "the usual classes" },
    ...others.map(({ id, title }) => ({ id, title })),
  ];
}

/**
 * The set with another of its class tables in force. Where that table classes another metric, the index becomes
 * the value of that metric.
 *
 * @throws UnknownClassesError when the set has no such table
 */
export function chooseRatings(set: ReferenceSet, name: string): ReferenceSet {
  const { definition } = set;
  if (name === definition.ratings.id) return set;
  const table = definition.other_ratings.find((one) => one.id === name);
  if (table === undefined) throw new UnknownClassesError(set, name);
  const { id, title, on, gaps, classes } = table;
  return {
    ...set,
    definition: {
      ...definition,
      index: {
        ...definition.index,
        ...(table.metric === undefined ? {} : { method: "metric", metric: table.metric }),
        round_to: table.round_to ?? (table.metric === undefined ? definition.index.round_to : undefined),
        unit: table.unit ?? definition.index.unit,
        higher_is: table.higher_is ?? definition.index.higher_is,
      },
      ratings: { id, title, on, gaps, classes },
    },
    classes: ratingClassesOf(classes),
  };
}
