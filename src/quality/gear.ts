/** Kinds of gear that catch different animals (common practice, no source), by words of their names. */
const KINDS: readonly (readonly [kind: string, words: RegExp])[] = [
  ["artificial substrate", /\b(?:hester|dendy|multi-?plate|artificial|colonis|coloniz|basket)/i],
  ["grab or dredge", /\b(?:ekman|eckman|ponar|petersen|van veen|grab|dredge)\b/i],
  ["corer", /\b(?:core|corer|coring)\b/i],
  ["drift net", /\bdrift\b/i],
  ["frame on the bed", /\b(?:surber|hess|stove-?pipe|portable invertebrate box)\b/i],
  ["net", /\b(?:net|nets|seine|kick|kicknet|d-?frame|d-?net|dipnet)\b/i],
];

const MESH = /(?<![\d.])(\d+(?:\.\d+)?)\s*-?\s*(?:µm|μm|um\b|micron|micromet)/i;

/**
 * The kinds of gear that a text names, the first that fits for each of its parts: a Surber net is a frame on the
 * bed, whatever it is called.
 */
export function gearKinds(text: string): ReadonlySet<string> {
  const found = new Set<string>();
  for (const part of text.split(/\bor\b|\band\b|[,;/]/i)) {
    const kind = KINDS.find(([, words]) => words.test(part))?.[0];
    if (kind !== undefined) found.add(kind);
  }
  return found;
}

/** The mesh in micrometres that a text names, as "500 µm". */
export function meshOf(text: string): number | undefined {
  const match = MESH.exec(text);
  return match === null ? undefined : Number(match[1]);
}

/**
 * In what the gear of a sample is another than that of a set, in words; undefined where it is not, or where one
 * of the two says nothing that can be compared.
 *
 * @param mesh of the sample, in micrometres
 */
export function gearDifference(
  ofSet: string,
  gear: string | undefined,
  mesh: number | undefined,
): string | undefined {
  const wanted = gearKinds(ofSet);
  const used = gearKinds(gear ?? "");
  if (wanted.size > 0 && used.size > 0 && ![...used].some((kind) => wanted.has(kind)))
    return `was taken with "${gear}"`;
  const wantedMesh = meshOf(ofSet);
  const usedMesh = mesh ?? meshOf(gear ?? "");
  if (wantedMesh !== undefined && usedMesh !== undefined && wantedMesh !== usedMesh)
    return `was taken with a mesh of ${usedMesh} µm`;
  return undefined;
}
