import type { FindingEntry } from "./define.ts";
import type { FindingTopic } from "./register.ts";

/**
 * The page that lists every finding code, in Markdown; the same bytes for the same register.
 *
 * @param topics the chapters, in the order in which they are printed
 */
export function findingsPage(topics: readonly FindingTopic[]): string {
  const count = topics.reduce((sum, { entries }) => sum + entries.length, 0);
  return [
    "# Findings",
    "Written from the register by its test (`UPDATE_DOCS=1`); changes made here are lost.",
    `${count} codes. A finding is one line: FILE:LINE:COLUMN, how much it weighs, its code, what is the matter, and in parentheses what to do. COLUMN is the number of the field, from 1; 0:0 is the whole file; a sheet of a workbook is FILE#Sheet. Codes never change their name, so scripts may rely on them; \`--findings FILE\` writes all findings as CSV.`,
    "- **error**: a sample or the run is refused; exit code 3.\n- **warning**: a doubt. It stands in the flags of its sample; exit code 1 under `--strict`.\n- **note**: a fact worth knowing.",
    "A few codes weigh less or more where the situation asks for it; the line itself says so.",
    ...topics.flatMap(({ title, entries }) => [`## ${title}`, ...entries.map(entryText)]),
  ]
    .join("\n\n")
    .concat("\n");
}

function entryText({ code, severity, meaning, hint, example }: FindingEntry): string {
  return `### \`${code}\`\n\n${severity}. ${meaning} What to do: ${hint}.\n\n\`\`\`text\n${example}\n\`\`\``;
}
