import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { Attribute, AttributeTable, AttributeValue } from "../model/attributes.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import type { SetFile } from "./folder.ts";
import { readSetTable } from "./set-table.ts";
import type { SharedTables } from "./shared-tables.ts";

/** A number of an attribute table; with more decimals sums would not be exact in reasonable space. */
const PLAIN_NUMBER = /^-?\d{1,6}(\.\d{1,6})?$/;
/** A mean of other values, say, as a calculator shows it. */
const WITH_MORE_DECIMALS = /^-?\d{1,6}\.\d{7,}$/;

/** What is wrong with the text of a number in a table of attributes; undefined when nothing is. */
export function numberFault(text: string): string | undefined {
  if (PLAIN_NUMBER.test(text)) return undefined;
  return WITH_MORE_DECIMALS.test(text)
    ? `"${text}" has more than six decimals; round it`
    : `"${text}" is not a plain number such as 4 or 5.35`;
}

/**
 * Reads a user's own attribute table: columns taxon and value, and attribute where it holds others than
 * tolerance values.
 *
 * @param name what the table is called in findings and results
 *   (which way its numbers run is the set's to say)
 * @returns undefined when there was a fault; each is a `bad-attributes` finding with its line and field
 */
export async function readAttributeFile(
  file: SetFile,
  name: string,
  shared: SharedTables,
  findings: FindingSink,
): Promise<AttributeTable[] | undefined> {
  const table = await readSetTable(
    file,
    { required: ["taxon", "value"], optional: ["attribute", "source_id", "verified", "note"] },
    findings,
    "bad-attributes",
  );
  if (table.isBroken) return undefined;
  const byAttribute = new Map<Attribute, Map<string, AttributeValue>>();
  let hasFaults = false;
  for (const row of table.rows) {
    const fault = (column: "taxon" | "value" | "attribute", message: string): void => {
      hasFaults = true;
      findings.add(finding("bad-attributes", row.place(column), { message }));
    };
    const [taxon, text] = [row.text("taxon"), row.text("value")];
    const word = row.text("attribute") || "tolerance";
    const attribute = ATTRIBUTES.find((one) => one === word);
    if (attribute === undefined) {
      fault("attribute", `"${word}" is no attribute${didYouMean(word, ATTRIBUTES)}`);
      continue;
    }
    if (taxon === "" || text === "") fault(taxon === "" ? "taxon" : "value", "the cell is empty");
    else {
      const wrong = attribute === "tolerance" ? numberFault(text) : undefined;
      if (wrong !== undefined) fault("value", wrong);
    }
    if (taxon !== "" && shared.tree.numberOf(taxon) === undefined) {
      const message = `"${taxon}" is not in the tree of taxa, so its value reaches no animal${didYouMean(taxon, shared.tree.names)}`;
      findings.add(finding("unknown-set-taxon", row.place("taxon"), { message }));
    }
    const values = byAttribute.get(attribute) ?? new Map<string, AttributeValue>();
    byAttribute.set(attribute, values);
    if (values.has(taxon)) fault("taxon", `${taxon} has a ${attribute} already`);
    values.set(taxon, { text, sourceId: row.text("source_id"), verified: "set" });
  }
  if (hasFaults) return undefined;
  return [...byAttribute].map(([attribute, values]) => ({
    scheme: {
      scheme: name,
      attribute,
      level: "",
      direction: "",
      region: "",
      sourceId: "",
      note: "",
    },
    values,
    scoreAs: new Map(),
  }));
}
