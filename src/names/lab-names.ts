import type { Finding } from "../findings/finding.ts";
import { finding } from "../findings/finding.ts";
import { at } from "../model/at.ts";
import type { TaxonTree } from "../model/taxon-tree.ts";
import { lookupKey } from "./lookup-key.ts";
import { NameIndex } from "./name-index.ts";
import { NameParser } from "./name-parser.ts";
import { cleanName } from "./normalise.ts";
import type { LabNameMap } from "./resolution.ts";
import { NameSuggester } from "./suggest.ts";
import type { SynonymRow } from "./synonyms.ts";

/** The lab's list made ready: by the name as written, and by its key where that says one thing only. */
export class LabNameIndex {
  readonly #byName = new Map<string, string>();
  readonly #byKey = new Map<string, string | undefined>();

  constructor(lab: LabNameMap) {
    for (const [sheetName, { accepted }] of lab) {
      const key = lookupKey(sheetName);
      const decided = cleanName(accepted);
      this.#byName.set(cleanName(sheetName), decided);
      const clashes = this.#byKey.has(key) && this.#byKey.get(key) !== decided;
      this.#byKey.set(key, clashes ? undefined : decided);
    }
  }

  byName(clean: string): string | undefined {
    return this.#byName.get(clean);
  }

  byKey(key: string): string | undefined {
    return this.#byKey.get(key);
  }
}

/** A lab's list of names as read from its file. */
export interface LabNameList {
  readonly entries: ReadonlyMap<string, { readonly accepted: string; readonly line: number }>;
  readonly file: string;
}

const SHEET_NAME_COLUMN = 1;
const ACCEPTED_NAME_COLUMN = 2;

/**
 * What is wrong with a lab's list: names that differ only in spelling and disagree, and accepted names that are
 * no taxon of the tree. A slash group, species group or provisional name made of its taxa will do, and so will a
 * species that the tree does not list in a genus that it does: the lab decides that it is a taxon of its own.
 */
export function checkLabNames(lab: LabNameList, tree: TaxonTree, synonyms: readonly SynonymRow[]): Finding[] {
  const index = new NameIndex({ tree, synonyms });
  const suggester = new NameSuggester(index);
  const parser = new NameParser(index, suggester, () => undefined);
  const findings: Finding[] = [];
  const byKey = new Map<string, { sheetName: string; accepted: string; line: number }>();
  for (const [sheetName, { accepted, line }] of lab.entries) {
    const key = lookupKey(sheetName);
    const earlier = byKey.get(key);
    if (earlier === undefined) byKey.set(key, { sheetName, accepted, line });
    else if (earlier.accepted !== accepted) {
      const message = `"${sheetName}" is ${accepted} here and "${earlier.sheetName}" is ${earlier.accepted} in line ${earlier.line}`;
      findings.push(
        finding("clashing-names", { file: lab.file, line, column: SHEET_NAME_COLUMN }, { message }),
      );
    }
    const decided = cleanName(accepted);
    const moved = movedMessage(sheetName, decided, index);
    if (moved !== undefined) {
      const place = { file: lab.file, line, column: ACCEPTED_NAME_COLUMN };
      findings.push(finding("moved-name", place, { message: moved }));
    }
    const genus = parser.unlistedSpecies(decided);
    // Close to a listed species it may be a slip, unless the lab says that the name is right as it stands.
    const isSlip =
      genus !== undefined &&
      cleanName(sheetName) !== decided &&
      suggester.hasCloseSpecies(genus, at(decided.split(" "), 1));
    if (!isSlip && parser.readAccepted(decided) !== undefined) continue;
    const place = { file: lab.file, line, column: ACCEPTED_NAME_COLUMN };
    const message = `"${accepted}" is not in the taxon tree${alternatives(accepted, index, suggester)}`;
    findings.push(finding("unknown-accepted-name", place, { message }));
  }
  return findings;
}

/** What to say of a name of the tree that the list takes as a taxon of another family. */
function movedMessage(sheetName: string, accepted: string, index: NameIndex): string | undefined {
  const { tree } = index;
  const from = index.taxonByKey(lookupKey(sheetName));
  const to = tree.numberOf(accepted) ?? tree.numberOf(at(accepted.split(" "), 0));
  if (from === undefined || to === undefined || tree.isWithin(from, to)) return undefined;
  const [before, after] = [tree.ancestorAt(from, "family"), tree.ancestorAt(to, "family")];
  if (before === undefined || before === after) return undefined;
  const family = after === undefined ? "" : ` (${tree.nameOf(after)})`;
  return `"${sheetName}" (${tree.nameOf(before)}) is taken as ${accepted}${family}, a taxon of another family`;
}

function alternatives(accepted: string, index: NameIndex, suggester: NameSuggester): string {
  const key = lookupKey(accepted);
  const taxon = index.taxonByKey(key);
  if (taxon !== undefined) return `; the tree writes it ${index.tree.nameOf(taxon)}`;
  const row = index.synonymByKey(key);
  if (row !== undefined) return `; it is a name for ${row.accepted}`;
  const close = suggester.closest(key);
  return close.length === 0 ? "" : `; close names: ${close.join(", ")}`;
}
