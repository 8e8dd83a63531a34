import { at } from "../model/at.ts";
import type { OperationalTaxon } from "../model/taxon-tree.ts";
import { LabNameIndex } from "./lab-names.ts";
import { lookupKey } from "./lookup-key.ts";
import type { Marks } from "./markers.ts";
import { MarkerReader, NO_MARKS } from "./markers.ts";
import type { NameHit } from "./name-hit.ts";
import type { NameTables } from "./name-index.ts";
import { NameIndex } from "./name-index.ts";
import { NameParser } from "./name-parser.ts";
import { cleanName } from "./normalise.ts";
import type { LabNameMap, NameWarning, Resolution } from "./resolution.ts";
import { NameSuggester } from "./suggest.ts";
import { rowWarning } from "./synonym-warnings.ts";

export type { Resolution } from "./resolution.ts";

/** No name is longer; a cell that is holds something else, and is not worth the search. */
const LONGEST_NAME = 200;

/**
 * Says what the names of a bench sheet are.
 *
 * In this order: the lab's own list; the tree, letter for letter; the tree and the synonyms in any spelling;
 * groups, provisional names and slashes made of known names; the same again after each marker taken off
 * ("sp.", "(L)", "cf."). Whatever is left is unknown and gets suggestions: nothing is guessed.
 */
export class NameResolver {
  readonly #index: NameIndex;
  readonly #lab: LabNameIndex;
  readonly #markers: MarkerReader;
  readonly #parser: NameParser;
  readonly #suggester: NameSuggester;

  /**
   * @param tables the taxon tree without operational taxa, and the synonym table
   * @param lab the lab's own list, which wins over both; names accepted by it that `checkLabNames` complains
   *   about resolve to nothing
   */
  constructor(tables: NameTables, lab: LabNameMap = new Map()) {
    this.#index = new NameIndex(tables);
    this.#lab = new LabNameIndex(lab);
    this.#markers = new MarkerReader(tables.synonyms);
    this.#suggester = new NameSuggester(this.#index);
    this.#parser = new NameParser(this.#index, this.#suggester, (key) => this.#labHit(key));
  }

  /**
   * What one name of a sheet is.
   *
   * @param asWritten the name in the sheet's own spelling, any white space included
   */
  resolve(asWritten: string): Resolution {
    const clean = cleanName(asWritten);
    if (clean === "" || clean.length > LONGEST_NAME) return { kind: "unknown", suggestions: [] };
    const decided = this.#lab.byName(clean);
    if (decided !== undefined) return this.#accepted(decided, clean);
    const key = lookupKey(clean);
    if (this.#lab.byKey(key) === undefined) {
      const exact = this.#index.tree.numberOf(clean);
      if (exact !== undefined) {
        const warning = rowWarning(clean, this.#index.synonymByKey(key), undefined);
        return { kind: "taxon", taxon: clean, via: "exact", warning };
      }
    }
    return this.#readMarked(key, clean) ?? this.#unknown(key);
  }

  /** Tries a key, then the key with one marker less, and so on. */
  #readMarked(key: string, clean: string): Resolution | undefined {
    let rest = key;
    let marks: Marks = NO_MARKS;
    for (;;) {
      const hit = this.#parser.read(rest) ?? this.#parser.readWithAuthor(rest);
      if (hit !== undefined) return this.#found(hit, marks, clean);
      const peeled = this.#markers.peel(rest);
      if (peeled === undefined) return undefined;
      rest = peeled.rest;
      marks = { stage: marks.stage ?? peeled.stage, doubts: [...marks.doubts, ...peeled.doubts] };
    }
  }

  #found(hit: NameHit, marks: Marks, clean: string): Resolution {
    const name = hit.operational?.name ?? this.#index.tree.nameOf(hit.taxon);
    const via = hit.via === "spelling" && name === clean ? "exact" : hit.via;
    const warning = joinedWarning(hit.warning, marks, clean, name);
    const found = { via, stage: marks.stage, warning, reason: hit.reason };
    return hit.operational === undefined
      ? { kind: "taxon", taxon: name, ...found }
      : { kind: "operational", operational: hit.operational, ...found };
  }

  /** A decision of the lab's list: a taxon of the tree, or the name of a group or provisional taxon. */
  #accepted(accepted: string, clean: string): Resolution {
    const hit = this.#parser.readAccepted(accepted);
    if (hit === undefined) return this.#unknown(lookupKey(accepted));
    return this.#found(hit, NO_MARKS, clean);
  }

  #labHit(key: string): NameHit | "refused" | undefined {
    const accepted = this.#lab.byKey(key);
    if (accepted === undefined) return undefined;
    return this.#parser.readAccepted(accepted) ?? "refused";
  }

  #unknown(key: string): Resolution {
    const forms = this.#markers.forms(key);
    for (const form of [...forms, ...forms.flatMap((each) => this.#parser.unknownParts(each))]) {
      const suggestions = this.#suggester.closest(form);
      if (suggestions.length > 0) return this.#unknownWith(suggestions, forms);
    }
    const bare = at(forms, forms.length - 1);
    return this.#unknownWith(this.#suggester.expandAbbreviation(bare), forms);
  }

  #unknownWith(suggestions: readonly string[], forms: readonly string[]): Resolution {
    const within = forms.map((form) => this.#parser.knownStart(form)).find((taxon) => taxon !== undefined);
    if (within === undefined) return { kind: "unknown", suggestions };
    return { kind: "unknown", suggestions, within: this.#index.tree.nameOf(within) };
  }
}

/** The operational taxa among resolutions, one for each name, for `TaxonTree.extend`. */
export function operationalTaxa(resolutions: Iterable<Resolution>): OperationalTaxon[] {
  const byName = new Map<string, OperationalTaxon>();
  for (const resolution of resolutions) {
    if (resolution.kind === "operational") byName.set(resolution.operational.name, resolution.operational);
  }
  return [...byName.values()];
}

function joinedWarning(
  warning: NameWarning | undefined,
  marks: Marks,
  clean: string,
  name: string,
): NameWarning | undefined {
  if (marks.doubts.length === 0) return warning;
  const doubt = `"${clean}" is taken as ${name} in spite of ${marks.doubts.join(" and ")}`;
  if (warning === undefined) return { kind: "uncertain", text: doubt };
  return { kind: warning.kind, text: `${warning.text}; ${doubt}` };
}
