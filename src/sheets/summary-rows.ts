/** What a row that is no animal sums up: animals of the rows above it, or a figure such as the richness. */
export type SummaryKind = "total" | "figure";

const ANIMALS = "(?:count|counts|individuals|animals|organisms|specimens|abundance|number)";
const HOW_MANY = "(?:number|no\\.?|#)(?: of)?";

/** Names of rows that add up the rows above them; no animal is called so. */
const TOTAL = new RegExp(
  `^(?:(?:grand |sub-?|sample )?(?:totals?|sums?)(?: ${HOW_MANY})?(?: ${ANIMALS})?|${HOW_MANY} ${ANIMALS}|abundance):?$`,
  "i",
);

/** Names of rows with a figure of the sample; no animal is called so. */
const FIGURE = new RegExp(
  `^(?:(?:total |taxa |taxon |species |family |ept )?(?:richness|diversity)|(?:total |sum of )?(?:${HOW_MANY} )?(?:different )?(?:ept )?(?:taxa|taxons|species|families|genera)(?: count)?|mean|average|median|minimum|maximum|min|max|range|density|evenness|percent ept|% ept|shannon(?:[- ](?:wiener|weaver))?(?: (?:index|diversity))?|simpson(?: (?:index|diversity))?|h'|(?:biotic|family biotic|hilsenhoff(?: biotic)?) index)(?: \\(.{1,40}\\))?:?$`,
  "i",
);

/** What names of such rows begin with: nearly every name of an animal is told from them without the dear patterns. */
const FIRST_WORDS: ReadonlySet<string> = new Set([
  ..."# % abundance average biotic density different diversity ept evenness families family genera".split(
    " ",
  ),
  ..."grand h hilsenhoff max maximum mean median min minimum no number percent range".split(" "),
  ..."richness sample shannon simpson species sub subsum subsums subtotal subtotals sum sums taxa taxon".split(
    " ",
  ),
  ..."taxons total totals".split(" "),
]);

/** The letters that a name begins with, or its first character where that is none. */
function firstWordOf(name: string): string {
  let end = 0;
  while (end < name.length && (name.charCodeAt(end) | 32) >= 97 && (name.charCodeAt(end) | 32) <= 122) end++;
  return name.slice(0, Math.max(end, 1)).toLowerCase();
}

/**
 * Whether a name on a bench sheet says that its row sums up others. Such rows are of spreadsheets, not of the
 * bench (common practice, no source), and counted they would double a sample.
 *
 * @param name without white space at its ends
 */
export function summaryKindOf(name: string): SummaryKind | undefined {
  if (name.length > 80 || !FIRST_WORDS.has(firstWordOf(name))) return undefined;
  if (TOTAL.test(name)) return "total";
  return FIGURE.test(name) ? "figure" : undefined;
}
