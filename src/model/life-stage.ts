/** Life stages of a bench sheet, in the order in which piles of one name are kept. */
export const LIFE_STAGES = [
  "unknown",
  "egg",
  "larva",
  "nymph",
  "pupa",
  "adult",
  "exuviae",
  "shell",
  "case",
] as const;
export type LifeStage = (typeof LIFE_STAGES)[number];

/** Usual abbreviations and other spellings of the bench. I (immature) is the larva of a 1999 protocol's sheet. */
const SPELLINGS: ReadonlyMap<string, LifeStage> = new Map([
  ["", "unknown"],
  ["u", "unknown"],
  ["unk", "unknown"],
  ["x", "unknown"],
  ["e", "egg"],
  ["eggs", "egg"],
  ["l", "larva"],
  ["larvae", "larva"],
  ["lrv", "larva"],
  ["i", "larva"],
  ["im", "larva"],
  ["imm", "larva"],
  ["immature", "larva"],
  ["juvenile", "larva"],
  ["j", "larva"],
  ["n", "nymph"],
  ["nymphs", "nymph"],
  ["p", "pupa"],
  ["pupae", "pupa"],
  ["a", "adult"],
  ["ad", "adult"],
  ["adults", "adult"],
  ["imago", "adult"],
  // The winged mayfly before its last moult lives out of the water as the adult does.
  ["subimago", "adult"],
  ["subimagines", "adult"],
  ["ex", "exuviae"],
  ["exuvia", "exuviae"],
  ["exuvium", "exuviae"],
  ["skin", "exuviae"],
  ["skins", "exuviae"],
  ["cast skin", "exuviae"],
  ["cast skins", "exuviae"],
  ["shuck", "exuviae"],
  ["shucks", "exuviae"],
  ...["pupal", "larval", "nymphal"].flatMap((stage) =>
    ["exuviae", "exuvia", "exuvium", "skin", "skins", "shuck", "shucks"].map(
      (left) => [`${stage} ${left}`, "exuviae"] as const,
    ),
  ),
  ["shells", "shell"],
  ["empty shell", "shell"],
  ["cases", "case"],
  ["empty case", "case"],
  ...LIFE_STAGES.map((stage) => [stage, stage] as const),
]);

/** Reads a life stage as people write it, in any case; undefined when it is none of the known spellings. */
export function parseLifeStage(text: string): LifeStage | undefined {
  return SPELLINGS.get(text.trim().toLowerCase().replace(/\.$/, "").replace(/\s+/g, " "));
}
