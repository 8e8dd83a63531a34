import { basename, resolve } from "node:path";
import { writeFolderWhole } from "../../files/safe-write.ts";
import { FindingCollector } from "../../findings/collector.ts";
import { setDefinitionSchema } from "../../model/reference-set.ts";
import { findSetFolder } from "../../reference/find-set.ts";
import { readSet } from "../../reference/read-set.ts";
import { loadSharedTables } from "../../reference/shared-tables.ts";
import { writeSetCopy } from "../../reference/write-set.ts";
import type { CommandContext } from "../context.ts";
import type { OptionValues } from "../define.ts";
import { UsageError } from "../define.ts";
import { EXIT, type ExitCode, worst } from "../exit-codes.ts";
import { finish } from "../finish.ts";
import { quietOption } from "../options/messages.ts";
import { setPlaces } from "./places.ts";

/** The work of `reference new`. */
export async function newReferenceSet(
  context: CommandContext,
  options: OptionValues,
  dir: string,
  from: string,
): Promise<ExitCode> {
  const target = resolve(context.cwd, dir);
  const id = basename(target);
  if (!setDefinitionSchema.shape.id.safeParse(id).success) {
    throw new UsageError(
      `"${id}" cannot be the id of a set`,
      "name the folder in lower case words joined by hyphens, for instance my-own-index",
    );
  }
  const places = setPlaces(context.cwd);
  const folder = await findSetFolder(from, places);
  const shared = loadSharedTables(places.packageTables);
  const findings = new FindingCollector();
  const read = await readSet(folder, shared, findings);
  if (read === undefined) return worst(await finish(context, options, findings.all, []), EXIT.refused);
  await writeFolderWhole(target, (temporary) => writeSetCopy(read, folder, id, shared, temporary), {
    shownAs: dir,
  });
  const exit = await finish(context, options, findings.all, []);
  if (options.get(quietOption) !== true) {
    const path = dir.includes("/") || dir.startsWith(".") ? dir : `./${dir}`;
    await context.stderr.write(
      `copied ${read.set.definition.id} ${read.set.definition.version} into ${dir}; use it with --reference ${path}\n`,
    );
  }
  return exit;
}
