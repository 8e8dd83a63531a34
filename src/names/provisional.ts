import { at } from "../model/at.ts";
import type { OperationalTaxon, Rank } from "../model/taxon-tree.ts";

/** A provisional name taken apart: "Baetis sp. A" is the stem "baetis" and the label "A". */
export interface ProvisionalParts {
  /** Key of the taxon that holds it. */
  readonly stem: string;
  /** How the name goes on behind the taxon: "sp. A", "genus 1", "sp. nov. 2", "sp. C Epler". */
  readonly ending: string;
  readonly rank: Rank;
}

/** A label: a letter, a number, both, or a short row of either: A, 1, A1, 12, IV, #3, A/B. */
const LABEL = String.raw`(?:[a-z]|\d{1,4}|[a-z]\d{1,3}|\d{1,3}[a-z]|[ivx]{2,5})`;
const LABELS = `${LABEL}(?:/${LABEL})*`;
/** Who gave the label: letters of two laboratories do not mean the same animals. */
const AUTHOR = String.raw`(?: \(?\p{L}[\p{L}]{2,}(?: (?:et al|& \p{L}+|\p{L}{3,}|\d{4}))*\)?)?`;

const SPECIES = new RegExp(
  `^(.+?) (?:spp?|species|taxon|type|morph|morphospecies) (${LABELS})(${AUTHOR})$`,
  "u",
);
const GENUS = new RegExp(`^(.+?) (?:genus|gen) (${LABELS})(${AUTHOR})$`, "u");
const NEW_SPECIES =
  /^(.+?) (?:sp nov|sp n|n sp|nov sp|new sp|new species|undescribed species)(?: ([a-z]|\d{1,4}))?$/u;

/** Reads a provisional name out of a key; undefined when it is none. */
export function readProvisional(key: string): ProvisionalParts | undefined {
  const novelty = NEW_SPECIES.exec(key);
  if (novelty?.[1] !== undefined) {
    const label = novelty[2] === undefined ? "" : ` ${novelty[2].toUpperCase()}`;
    return { stem: novelty[1], ending: `sp. nov.${label}`, rank: "species" };
  }
  const genus = GENUS.exec(key);
  if (genus?.[1] !== undefined) return { stem: genus[1], ending: `genus ${written(genus)}`, rank: "genus" };
  const species = SPECIES.exec(key);
  if (species?.[1] !== undefined)
    return { stem: species[1], ending: `sp. ${written(species)}`, rank: "species" };
  return undefined;
}

/** The operational taxon of a provisional name under the taxon its stem stands for. */
export function provisionalTaxon(parent: string, parts: ProvisionalParts): OperationalTaxon {
  return { name: `${parent} ${parts.ending}`, parent, members: [], rank: parts.rank };
}

function written(match: RegExpExecArray): string {
  const author = at(match, 3).replace(/(?<=[ (])\p{L}/gu, (letter) => letter.toUpperCase());
  return `${at(match, 2).toUpperCase()}${author.replace("Et Al", "et al.")}`;
}
