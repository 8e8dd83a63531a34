import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { Attribute, AttributeValue } from "../model/attributes.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import type { SetFile } from "./folder.ts";
import { numberFault } from "./read-attribute-file.ts";
import type { SetRow } from "./set-table.ts";
import { readSetTable } from "./set-table.ts";

/** Columns of a set's taxa.csv, in the order in which they are written. */
export const SET_TAXA_COLUMNS = ["taxon", "attribute", "value", "source_id", "verified", "note"] as const;
export type SetTaxaColumn = (typeof SET_TAXA_COLUMNS)[number];
type Row = SetRow<SetTaxaColumn>;

/** Words of the attribute column that are no attribute: a taxon scored as another one; another name of a group. */
const SCORE_AS = "score_as";
const ALSO_CALLED = "also_called";

/** What a set's own taxa.csv says. */
export interface SetTaxa {
  /** Every taxon (or group) named, once, in the order of the file, with its first place. */
  readonly taxa: ReadonlyMap<string, { readonly line: number; readonly column: number }>;
  readonly values: ReadonlyMap<Attribute, ReadonlyMap<string, AttributeValue>>;
  /** Taxon to the taxon it is scored as, for every attribute (`""`) or for one. */
  readonly scoreAs: ReadonlyMap<Attribute | "", ReadonlyMap<string, string>>;
  /** Other name to group, for sets whose names are groups. */
  readonly alsoCalled: ReadonlyMap<string, string>;
}

export const NO_SET_TAXA: SetTaxa = {
  taxa: new Map(),
  values: new Map(),
  scoreAs: new Map(),
  alsoCalled: new Map(),
};

/**
 * Reads a set's taxa.csv: one row for each value of a taxon (taxon, attribute, value). The attribute `score_as`
 * names the taxon it is scored as (`score_as:tolerance`: for that attribute only); `also_called` gives another name of a group. A row with neither attribute nor
 * value only names a group.
 *
 * @returns undefined when there was a fault; each is a `bad-set` finding with its line and field
 */
export async function readSetTaxa(file: SetFile, findings: FindingSink): Promise<SetTaxa | undefined> {
  const table = await readSetTable(
    file,
    { required: ["taxon", "attribute", "value"], optional: ["source_id", "verified", "note"] },
    findings,
  );
  if (table.isBroken) return undefined;
  const taxa = new Map<string, { line: number; column: number }>();
  const values = new Map<Attribute, Map<string, AttributeValue>>();
  const scoreAs = new Map<Attribute | "", Map<string, string>>();
  const alsoCalled = new Map<string, string>();
  let hasFaults = false;
  const fault = (row: Row, column: SetTaxaColumn, message: string): void => {
    hasFaults = true;
    findings.add(finding("bad-set", row.place(column), { message }));
  };
  const put = <Value>(row: Row, map: Map<string, Value>, key: string, value: Value): void => {
    if (map.has(key)) fault(row, "taxon", `"${key}" has this attribute twice`);
    map.set(key, value);
  };
  for (const row of table.rows) {
    const [taxon, attribute, value] = [row.text("taxon"), row.text("attribute"), row.text("value")];
    if (taxon === "") {
      fault(row, "taxon", "a name is missing");
      continue;
    }
    if (!taxa.has(taxon)) {
      const { line, column } = row.place("taxon");
      taxa.set(taxon, { line, column });
    }
    if (attribute === "" && value === "") continue;
    if (value === "") {
      fault(row, "value", `the value of ${taxon} is missing`);
      continue;
    }
    const known = ATTRIBUTES.find((one) => one === attribute);
    const scored = scoreAsOf(attribute);
    if (scored !== undefined) {
      const ofKind = scoreAs.get(scored) ?? new Map<string, string>();
      scoreAs.set(scored, ofKind);
      put(row, ofKind, taxon, value);
    } else if (attribute === ALSO_CALLED) put(row, alsoCalled, value, taxon);
    else if (known === undefined) {
      const words = [...ATTRIBUTES, SCORE_AS, ALSO_CALLED];
      fault(
        row,
        "attribute",
        `"${attribute}" is no attribute${didYouMean(attribute, words) || `; there are ${words.join(", ")}`}`,
      );
    } else {
      const wrong = known === "tolerance" ? numberFault(value) : undefined;
      if (wrong !== undefined) fault(row, "value", wrong);
      const ofKind = values.get(known) ?? new Map<string, AttributeValue>();
      values.set(known, ofKind);
      put(row, ofKind, taxon, {
        text: value,
        sourceId: row.text("source_id"),
        verified: verifiedOf(row.text("verified")),
      });
    }
  }
  return hasFaults ? undefined : { taxa, values, scoreAs, alsoCalled };
}

/** The attribute that `score_as` or `score_as:tolerance` is about; undefined for another word. */
function scoreAsOf(word: string): Attribute | "" | undefined {
  if (word === SCORE_AS) return "";
  return ATTRIBUTES.find((attribute) => word === `${SCORE_AS}:${attribute}`);
}

function verifiedOf(text: string): AttributeValue["verified"] {
  return text === "seen" || text === "memory" ? text : "set";
}
