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
const BRIEF = ["set", "verification", "region", "level", "title"].map(text);
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
].map(text);

/** The work of `reference list`. A set that cannot be read is a finding, and the others are listed. */
export async function listReferenceSets(context: CommandContext, options: OptionValues): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const findings = new FindingCollector();
  const rows: OutputRow[] = [];
  const files: string[] = [];
  const isBrief = plan.format === "table";
  for (const { folder } of await listSets(setPlaces(context.cwd))) {
    const file = await readSetFile(folder, "set.json");
    files.push(file.shownAs);
    const definition = readDefinition(file, findings)?.definition;
    if (definition !== undefined)
      rows.push(isBrief ? briefRow(definition) : fullRow(definition, folder.shownAs));
  }
  await writeTable(context, plan, {
    columns: isBrief ? BRIEF : FULL,
    rows,
    envelope: { schema: "jartally/reference-sets@1", inputs: [] },
  });
  return finish(context, options, findings.all, files);
}

function briefRow(set: SetDefinition): OutputRow {
  return [set.id, set.verification, set.region, levelText(set), set.title];
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
  ];
}
