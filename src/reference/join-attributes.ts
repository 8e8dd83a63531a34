import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { Attribute, AttributeScheme, AttributeTable, AttributeValue } from "../model/attributes.ts";
import { ATTRIBUTES } from "../model/attributes.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { ReadDefinition } from "./read-definition.ts";
import type { SetTaxa } from "./read-set-taxa.ts";
import type { SharedTables } from "./shared-tables.ts";

/** The attribute tables of a set, and the lists it needs and does not hold. */
export interface JoinedAttributes {
  readonly held: ReadonlyMap<Attribute, AttributeTable>;
  readonly notHeld: ReadonlyMap<Attribute, string>;
}

type Choice = NonNullable<SetDefinition["attributes"][Attribute]>;

/** Joins the attribute tables a set chooses with its own values, which win over the shared ones. */
export function joinAttributes(
  { definition, placeOf }: ReadDefinition,
  taxa: SetTaxa,
  shared: SharedTables,
  taxaFile: string,
  findings: FindingSink,
): JoinedAttributes {
  const held = new Map<Attribute, AttributeTable>();
  const notHeld = new Map<Attribute, string>();
  const fault = (attribute: Attribute, message: string): void =>
    findings.add(
      finding("bad-set", placeOf("attributes", attribute), {
        message: `attributes.${attribute}: ${message}`,
      }),
    );
  for (const attribute of ATTRIBUTES) {
    const choice = definition.attributes[attribute];
    const own = taxa.values.get(attribute) ?? new Map<string, AttributeValue>();
    if (choice === undefined || "held" in choice) {
      if (own.size > 0) {
        const says =
          choice === undefined
            ? "set.json does not name this attribute"
            : "set.json says that the list is not held";
        findings.add(
          finding("bad-set", placeOfFirst(own, taxa, taxaFile), {
            message: `values of ${attribute}, but ${says}`,
          }),
        );
      }
      if (choice !== undefined) notHeld.set(attribute, choice.method_list);
      continue;
    }
    const base =
      "scheme" in choice ? sharedTable(attribute, choice.scheme, shared, fault) : ownTable(attribute, choice);
    if (base === undefined) continue;
    if (attribute === "tolerance" && base.scheme.direction === "") {
      fault(attribute, "say how the numbers run: direction higher-is-tolerant or higher-is-sensitive");
      continue;
    }
    checkRange(base.scheme, own, taxa, taxaFile, findings);
    held.set(attribute, {
      scheme: base.scheme,
      values: new Map([...base.values, ...own]),
      scoreAs: new Map([
        ...base.scoreAs,
        ...(taxa.scoreAs.get("") ?? []),
        ...(taxa.scoreAs.get(attribute) ?? []),
      ]),
    });
  }
  return { held, notHeld };
}

function sharedTable(
  attribute: Attribute,
  id: string,
  shared: SharedTables,
  fault: (attribute: Attribute, message: string) => void,
): AttributeTable | undefined {
  const scheme = shared.schemes.get(id);
  if (scheme === undefined) {
    fault(attribute, `there is no scheme "${id}"${didYouMean(id, shared.schemes.keys())}`);
    return undefined;
  }
  if (scheme.attribute !== attribute) {
    fault(attribute, `the scheme "${id}" is of ${scheme.attribute}`);
    return undefined;
  }
  return shared.loadAttribute(id);
}

function ownTable(attribute: Attribute, choice: Extract<Choice, { own: true }>): AttributeTable {
  return {
    scheme: {
      scheme: choice.list,
      attribute,
      level: choice.level,
      min: choice.min,
      max: choice.max,
      direction: choice.direction,
      region: choice.region,
      sourceId: choice.source ?? "",
      note: "",
    },
    values: new Map(),
    scoreAs: new Map(),
  };
}

/** Values beyond the ends of the scale are slips of the keyboard. */
function checkRange(
  scheme: AttributeScheme,
  own: ReadonlyMap<string, AttributeValue>,
  taxa: SetTaxa,
  taxaFile: string,
  findings: FindingSink,
): void {
  const { min, max } = scheme;
  for (const [taxon, { text }] of own) {
    const value = Number(text);
    if (scheme.attribute !== "tolerance") continue;
    if ((min === undefined || value >= min) && (max === undefined || value <= max)) continue;
    findings.add(
      finding("bad-set", placeOfTaxon(taxon, taxa, taxaFile), {
        message: `the ${scheme.attribute} of ${taxon} is ${text}; the scale goes from ${min ?? "any"} to ${max ?? "any"}`,
      }),
    );
  }
}

function placeOfFirst(own: ReadonlyMap<string, AttributeValue>, taxa: SetTaxa, file: string) {
  return placeOfTaxon([...own.keys()][0] ?? "", taxa, file);
}

function placeOfTaxon(taxon: string, taxa: SetTaxa, file: string) {
  const { line, column } = taxa.taxa.get(taxon) ?? { line: 0, column: 0 };
  return { file, line, column };
}
