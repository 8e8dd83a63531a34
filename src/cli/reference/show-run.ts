import type { OutputColumn } from "../../files/formats/define.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { describeSet } from "../../reference/describe-set.ts";
import { findSetFolder } from "../../reference/find-set.ts";
import { readReferenceSet } from "../../reference/read-set.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import type { ExitCode } from "../exit-codes.ts";
import { EXIT, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { planOutput, writeTable } from "../output.ts";
import { setPlaces } from "./places.ts";
import { setPage } from "./set-page.ts";

const COLUMNS = ["part", "name", "stratum", "value"].map((name): OutputColumn => ({ name, kind: "text" }));

/** The work of `reference show`. */
export async function showReferenceSet(
  context: CommandContext,
  options: OptionValues,
  idOrPath: string,
): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const findings = new FindingCollector();
  const shared = loadSharedTables(setPlaces(context.cwd).packageTables);
  const folder = await findSetFolder(idOrPath, setPlaces(context.cwd));
  const set = await readReferenceSet(folder, shared, findings);
  if (set === undefined) return worst(await finish(context, options, findings.all, []), EXIT.refused);
  const rows = describeSet(set, shared.sources);
  if (plan.format === "table" && plan.path === undefined) await context.stdout.write(setPage(set, rows));
  else {
    await writeTable(context, plan, {
      columns: COLUMNS,
      rows: rows.map(({ part, name, stratum, value }) => [part, name, stratum, value]),
      envelope: {
        schema: "jartally/reference-set@1",
        inputs: [],
        reference: { id: set.definition.id, version: set.definition.version, hash: set.hash },
      },
    });
  }
  return finish(context, options, findings.all, []);
}
