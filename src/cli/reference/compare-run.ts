import type { OutputColumn } from "../../files/formats/define.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { compareSets } from "../../reference/compare-sets.ts";
import { findSetFolder } from "../../reference/find-set.ts";
import { readReferenceSet } from "../../reference/read-set.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import { EXIT, type ExitCode, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { quietOption } from "../options/messages.ts";
import { planOutput, writeTable } from "../output.ts";
import { setPlaces } from "./places.ts";

const COLUMNS = ["part", "stratum", "name", "change", "first", "second"].map(
  (name): OutputColumn => ({ name, kind: "text" }),
);

/** The work of `reference compare`. */
export async function compareReference(
  context: CommandContext,
  options: OptionValues,
  firstWord: string,
  secondWord: string,
): Promise<ExitCode> {
  const plan = await planOutput(context, options, []);
  const places = setPlaces(context.cwd);
  const folders = [await findSetFolder(firstWord, places), await findSetFolder(secondWord, places)] as const;
  const shared = loadSharedTables(places.packageTables);
  const findings = new FindingCollector();
  const first = await readReferenceSet(folders[0], shared, findings);
  const second = await readReferenceSet(folders[1], shared, findings);
  if (first === undefined || second === undefined)
    return worst(await finish(context, options, findings.all, []), EXIT.refused);
  const differences = compareSets(first, second);
  await writeTable(context, plan, {
    columns: COLUMNS,
    rows: differences.map((one) => [one.part, one.stratum, one.name, one.change, one.first, one.second]),
    envelope: { schema: "jartally/reference-comparison@1", inputs: [] },
  });
  const exit = await finish(context, options, findings.all, []);
  if (options.get(quietOption) !== true) {
    const [a, b] = [first.definition, second.definition];
    const many = differences.length === 1 ? "1 difference" : `${differences.length} differences`;
    const isTold = differences.length > 0 && differences.every(({ part }) => part === "about");
    const what = isTold ? ", all in what they say of themselves: they score alike" : "";
    await context.stderr.write(
      `${many} between ${a.id} ${a.version} (first) and ${b.id} ${b.version} (second)${what}\n`,
    );
  }
  return exit;
}
