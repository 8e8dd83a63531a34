import { sha256 } from "../files/digest.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SetDefinition } from "../model/reference-set.ts";
import type { SharedTables } from "./shared-tables.ts";
import { LIFE_STAGES_FILE, SCHEMES_FILE, SCORE_AS_FILE, SYNONYMS_FILE, TAXA_FILE } from "./shared-tables.ts";

/**
 * The hash of a set: SHA-256 over the names and hashes of everything it uses, in code point order of the names:
 * its own files, and of the shared tables the attribute tables it chooses and, unless its names are groups of its
 * own, the tree, the synonyms, the life stages and the families scored as another. Two sets with the same hash
 * give the same scores.
 */
export function setHash(
  files: readonly (readonly [name: string, bytes: Uint8Array])[],
  definition: SetDefinition,
  shared: SharedTables,
): string {
  const parts = files.map(([name, bytes]): [string, string] => [name, sha256(bytes)]);
  for (const path of sharedFiles(definition, shared)) {
    const digest = shared.digests.get(path);
    if (digest !== undefined) parts.push([`shared/${path}`, digest]);
  }
  parts.sort(([a], [b]) => compareCodePoints(a, b));
  return sha256(parts.map(([name, digest]) => `${digest}  ${name}\n`).join(""));
}

/** The shared tables on which scores of a set depend. */
function sharedFiles(definition: SetDefinition, shared: SharedTables): string[] {
  const schemes = Object.values(definition.attributes).flatMap((choice) =>
    "scheme" in choice ? [choice.scheme] : [],
  );
  const tables = schemes.flatMap((scheme) => shared.fileOf(scheme) ?? []);
  return [
    ...(definition.naming === "groups" ? [] : [TAXA_FILE, SYNONYMS_FILE, LIFE_STAGES_FILE]),
    ...(tables.length === 0 ? [] : [SCHEMES_FILE, SCORE_AS_FILE]),
    ...new Set(tables),
  ];
}
