import type { OutputColumn, OutputRow } from "../../files/formats/define.ts";
import { FindingCollector } from "../../findings/collector.ts";
import type { SetDefinition } from "../../model/reference-set.ts";
import { countRuleText, levelText } from "../../reference/describe-set.ts";
import { listSets } from "../../reference/find-set.ts";
import { readSetFile } from "../../reference/folder.ts";
import { readDefinition } from "../../reference/read-definition.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import type { ExitCode } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { planOutput, writeTable } from "../output.ts";
import { setPlaces } from "./places.ts";

const text = (name: string): OutputColumn => ({ name, kind: "text" });
const BRIEF = ["set", "takes", "verification", "region", "level", "title"].map(text);
/** A terminal of 80 columns has room for these; reference show tells the rest of one set. */
const NARROW = new Set(["set", "takes", "verification", "title"]);
const WIDE_TERMINAL = 140;
const FULL = [
  "set",
  "version",
  "title",
  "verification",
  "region",
  "level",
  "season",
  "gear",
  "count_rule",
  "strata",
  "metrics",
  "sources",
  "folder",
  "summary",
  "takes",
].map(text);

/** The work of `reference list`. A set that cannot be read is a finding, and the others are listed. */
export async function listReferenceSets(context: CommandContext, options: OptionValues): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const findings = new FindingCollector();
  const rows: OutputRow[] = [];
  const files: string[] = [];
  const isBrief = plan.format === "table";
  const isNarrow =
    plan.path === undefined && context.stdout.isTerminal && context.stdout.width < WIDE_TERMINAL;
  const isShown = BRIEF.map(({ name }) => !isNarrow || NARROW.has(name));
  const brief = <T>(all: readonly T[]): T[] => all.filter((_, at) => isShown[at]);
  for (const { folder } of await listSets(setPlaces(context.cwd))) {
    const file = await readSetFile(folder, "set.json");
    files.push(file.shownAs);
    const definition = readDefinition(file, findings)?.definition;
    if (definition !== undefined)
      rows.push(isBrief ? brief(briefRow(definition)) : fullRow(definition, folder.shownAs));
  }
  await writeTable(context, plan, {
    columns: isBrief ? brief(BRIEF) : FULL,
    rows,
    envelope: { schema: "jartally/reference-sets@1", inputs: [] },
  });
  return finish(context, options, findings.all, files);
}

function briefRow(set: SetDefinition): OutputRow {
  return [set.id, takes(set), set.verification, set.region, levelText(set), set.title];
}

function fullRow(set: SetDefinition, folder: string): OutputRow {
  return [
    set.id,
    set.version,
    set.title,
    set.verification,
    set.region,
    levelText(set),
    set.season === undefined ? "" : `${set.season.from} to ${set.season.to}`,
    set.gear ?? "",
    countRuleText(set),
    set.strata.map((stratum) => stratum.id).join(" "),
    set.metrics.map((metric) => metric.id).join(" "),
    set.sources.join(" "),
    folder,
    set.summary,
    takes(set),
  ];
}

/** What a set can be given as it is shipped: without the method's own attribute list it cannot work from counts. */
function takes(set: SetDefinition): string {
  const lacksList = Object.values(set.attributes).some((choice) => choice !== undefined && "held" in choice);
  return lacksList ? "metric values" : "counts";
}
