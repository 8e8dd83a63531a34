import { readFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { sha256 } from "../files/digest.ts";
import { asFileError } from "../files/file-error.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { Attribute, AttributeScheme, AttributeTable } from "../model/attributes.ts";
import { readAttributeFile } from "./read-attribute-file.ts";
import type { AttributeStandIn, ReferenceSet } from "./set.ts";
import type { SharedTables } from "./shared-tables.ts";

type AttributeDirection = AttributeScheme["direction"];

/**
 * Puts the attribute tables that the user named (ids of shared schemes, or files of taxon,value) into a set, and
 * refuses a set that still lacks one which its method uses and this package does not hold.
 *
 * @param words schemes and files, in the order given; a file that gives no attribute column is tolerance values
 * @returns undefined when an attribute is still missing or a word cannot be used; each is a finding
 * @throws FileError when a file cannot be read
 */
export async function chooseAttributes(
  set: ReferenceSet,
  words: readonly string[],
  shared: SharedTables,
  cwd: string,
  findings: FindingSink,
): Promise<ReferenceSet | undefined> {
  const attributes = new Map(set.attributes);
  const notHeld = new Map(set.attributesNotHeld);
  const standIns: AttributeStandIn[] = [];
  const hashes: string[] = [];
  let hasFaults = false;
  for (const word of words) {
    const named = await tablesOf(word, shared, cwd, findings);
    if (named === undefined) {
      hasFaults = true;
      continue;
    }
    hashes.push(named.hash);
    for (const table of named.tables) {
      const { attribute } = table.scheme;
      const insteadOf = notHeld.get(attribute) ?? attributes.get(attribute)?.scheme.scheme;
      if (insteadOf === undefined) {
        findings.add(
          finding("bad-attributes", wholeFile(named.shownAs), {
            message: `the set ${set.definition.id} uses no ${attribute.replaceAll("_", " ")}`,
          }),
        );
        hasFaults = true;
        continue;
      }
      const direction = directionOf(set, attribute);
      if (direction !== "" && table.scheme.direction !== "" && table.scheme.direction !== direction) {
        findings.add(
          finding("bad-attributes", wholeFile(named.shownAs), {
            message: `its numbers run the other way round than ${insteadOf}: ${table.scheme.direction}`,
          }),
        );
        hasFaults = true;
        continue;
      }
      attributes.set(attribute, { ...table, scheme: { ...table.scheme, direction } });
      notHeld.delete(attribute);
      standIns.push({ attribute, from: named.shownAs, insteadOf });
    }
  }
  for (const [attribute, list] of notHeld) {
    hasFaults = true;
    findings.add(
      finding("attributes-not-held", wholeFile(`${set.folder}/set.json`), {
        message: `${attribute.replaceAll("_", " ")}: the method's own list (${list}) is not held`,
      }),
    );
  }
  if (hasFaults) return undefined;
  if (standIns.length === 0) return set;
  const hash = sha256([set.hash, ...hashes].join("\n"));
  return { ...set, attributes, attributesNotHeld: notHeld, standIns, hash };
}

/** How the numbers of an attribute run in a set's method; empty for categories. */
function directionOf({ definition, attributes }: ReferenceSet, attribute: Attribute): AttributeDirection {
  const choice = definition.attributes[attribute];
  if (choice !== undefined && "direction" in choice) return choice.direction;
  return attributes.get(attribute)?.scheme.direction ?? "";
}

interface NamedTables {
  readonly shownAs: string;
  readonly tables: readonly AttributeTable[];
  readonly hash: string;
}

async function tablesOf(
  word: string,
  shared: SharedTables,
  cwd: string,
  findings: FindingSink,
): Promise<NamedTables | undefined> {
  if (shared.schemes.has(word)) {
    const hash = shared.digests.get(shared.fileOf(word) ?? "") ?? "";
    return { shownAs: word, tables: [shared.loadAttribute(word)], hash };
  }
  if (!/[./\\]/.test(word)) {
    findings.add(
      finding("bad-attributes", wholeFile(word), {
        message: `there is no attribute scheme "${word}"${didYouMean(word, shared.schemes.keys())}`,
      }),
    );
    return undefined;
  }
  let bytes: Uint8Array;
  try {
    bytes = await readFile(resolve(cwd, word));
  } catch (error) {
    throw asFileError(word, error);
  }
  const tables = await readAttributeFile({ bytes, shownAs: word }, basename(word), shared, findings);
  return tables === undefined ? undefined : { shownAs: word, tables, hash: sha256(bytes) };
}
