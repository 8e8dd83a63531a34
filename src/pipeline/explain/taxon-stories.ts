import { at } from "../../model/at.ts";
import type { Attribute } from "../../model/attributes.ts";
import { numberText } from "../../model/number-text.ts";
import type { AssemblyStory, RecordFate } from "../../taxa/explain-assembly.ts";
import { explainAssembly } from "../../taxa/explain-assembly.ts";
import { coarserThanLevel } from "../../taxa/level.ts";
import type { CompiledSet } from "../compiled-set.ts";
import type { DrawnPile } from "../draw-sample.ts";
import type { SamplePreparer } from "../prepare-sample.ts";
import type { AttributeTrail, MergeStory, SampleStory, TaxonStory } from "./story.ts";

/** The taxa of a sample at the set's level, by name, and what the parent rule moved. */
export function taxonStories(
  preparer: SamplePreparer,
  piles: readonly DrawnPile[],
): Pick<SampleStory, "taxa" | "merges" | "moves"> {
  const { compiled, names } = preparer.batch;
  const { tree } = compiled;
  const assembly = explainAssembly(piles, preparer.rules);
  const { total } = assembly.assembled.community;
  const madeOf = namesByTaxon(assembly, piles, names.keyNames);
  const coarse = coarserThanLevel(compiled.set.definition.level, tree, compiled.levelOf);
  const read = [...new Set(compiled.metrics.flatMap((metric) => metric.prepared.attributes))];
  const taxa = assembly.records.map((record): TaxonStory => {
    const taxon = tree.nameOf(record.taxon);
    const sources = madeOf.get(record.taxon) ?? [];
    return {
      taxon,
      madeOf: sources.length === 1 && sources[0] === taxon ? [] : sources,
      before: record.before,
      after: record.after,
      share: total === 0 ? undefined : (record.after * 100) / total,
      richness: record.richness,
      why: [
        whyText(record, (other) => tree.nameOf(other)),
        ...(coarse[record.taxon] === 1 ? ["coarser than the set's level"] : []),
      ].join("; "),
      attributes: read.map((attribute) => attributeTrail(compiled, attribute, record.taxon)),
    };
  });
  const moves = assembly.moves.map(({ from, to, animals }) => ({
    from: tree.nameOf(from),
    to: to === undefined ? "" : tree.nameOf(to),
    animals,
  }));
  return { taxa, merges: mergesOf(assembly, (taxon) => tree.nameOf(taxon)), moves };
}

function mergesOf({ piles }: AssemblyStory, nameOf: (taxon: number) => string): MergeStory[] {
  const merged = new Map<number, number>();
  for (const { rolledUpTo, countedAs, takesPart } of piles)
    if (takesPart && rolledUpTo !== countedAs) merged.set(rolledUpTo, countedAs);
  return [...merged].map(([from, to]) => ({ taxon: nameOf(from), scoredAs: nameOf(to) }));
}

/** The names on the sheets, as the draw knows them, by the taxon that they were counted as. */
function namesByTaxon(
  { piles: fates }: AssemblyStory,
  piles: readonly DrawnPile[],
  keyNames: readonly string[],
): Map<number, string[]> {
  const found = new Map<number, string[]>();
  fates.forEach(({ countedAs, takesPart }, index) => {
    const name = at(keyNames, at(piles, index).pile.key);
    if (!takesPart) return;
    const known = found.get(countedAs) ?? [];
    if (!known.includes(name)) found.set(countedAs, [...known, name]);
  });
  return found;
}

function whyText({ reason, because, richness }: RecordFate, nameOf: (taxon: number) => string): string {
  const finer = because.map(nameOf).join(", ");
  switch (reason) {
    case "distinct":
      return richness === 1 ? "distinct" : `stands for ${numberText(richness)} taxa`;
    case "says-yes":
      return "the sheet says that it is distinct";
    case "says-no":
      return "the sheet says that it is not distinct";
    case "finer-records":
      return finer === "" ? "its animals are with another record" : `finer records stand for it: ${finer}`;
    case "finer-in-batch":
      return "finer records are in other samples of the batch";
    case "left-over":
      return `stands for more taxa than its finer records: ${finer}`;
  }
}

/** Where the value of one attribute comes from. */
export function attributeTrail(compiled: CompiledSet, attribute: Attribute, taxon: number): AttributeTrail {
  const table = compiled.set.attributes.get(attribute);
  const from = compiled.attributes.get(attribute)?.from[taxon] ?? -1;
  const source = from < 0 ? "" : compiled.tree.nameOf(from);
  const value = source === "" ? undefined : table?.values.get(source);
  return {
    attribute,
    scheme: table?.scheme.scheme ?? "",
    value: value?.text ?? "",
    from: source,
    sourceId: value?.sourceId ?? "",
    verified: value?.verified ?? "",
  };
}
