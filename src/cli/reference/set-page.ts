import type { SetFact } from "../../reference/describe-set.ts";
import type { ReferenceSet } from "../../reference/set.ts";
import { definitionList, wrap } from "../wrap.ts";

const WIDTH = 80;
/** Parts of the page, in order, with their headings. */
const PARTS: readonly (readonly [SetFact["part"], string])[] = [
  ["about", "About"],
  ["check", "How its numbers were checked"],
  ["method", "Method"],
  ["metric", "Metrics"],
  ["threshold", "Limits and scores"],
  ["index", "Index"],
  ["rating", "Rating"],
  ["source", "Sources"],
  ["caution", "Cautions"],
];

/** A set as a page for a person. */
export function setPage(set: ReferenceSet, facts: readonly SetFact[]): string {
  const { definition } = set;
  const parts = PARTS.flatMap(([part, heading]) => {
    const own = facts.filter((fact) => fact.part === part);
    return own.length === 0 ? [] : [`${heading}\n${body(part, own)}`];
  });
  return `${[
    wrap(`${definition.id} ${definition.version}: ${definition.title}`, WIDTH).join("\n"),
    wrap(definition.summary, WIDTH).join("\n"),
    ...parts,
  ].join("\n\n")}\n`;
}

function body(part: SetFact["part"], facts: readonly SetFact[]): string {
  if (part === "caution") {
    return facts
      .flatMap((fact) =>
        wrap(fact.value, WIDTH - 4).map((line, at) => (at === 0 ? `  - ${line}` : `    ${line}`)),
      )
      .join("\n");
  }
  const several = new Set(facts.map((fact) => fact.stratum)).size > 1;
  return definitionList(
    facts.map(
      (fact) =>
        [several && fact.stratum !== "" ? `${fact.name} (${fact.stratum})` : fact.name, fact.value] as const,
    ),
    WIDTH,
  );
}
