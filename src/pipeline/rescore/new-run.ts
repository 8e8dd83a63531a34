import { join } from "node:path";
import { nodeFileSystem } from "../../files/file-system.ts";
import { writeFolderWhole } from "../../files/safe-write.ts";
import type { Watcher } from "../../model/watcher.ts";
import { unwatched } from "../../model/watcher.ts";
import { baseName, nameInputs } from "../../runs/input-names.ts";
import type { RunInput, RunRecord } from "../../runs/run-record.ts";
import { inRunNames } from "../../runs/stored-findings.ts";
import type { ReadFile } from "../../sheets/bench-sheet.ts";
import type { RunContents } from "../run-contents.ts";
import { attributeFiles } from "../run-of-batch.ts";
import type { RunPlace } from "../write-run.ts";
import { fillRun, writeRun } from "../write-run.ts";
import type { RescoreInputs } from "./after.ts";
import type { RescoredRun } from "./rescore-runs.ts";

/**
 * Leaves the run folder of a re-score; of several runs, a folder with one run folder each, named as the runs are.
 * Whole or not at all.
 *
 * @throws FileError when the folder exists already or cannot be written
 */
export async function writeRescored(
  place: RunPlace,
  runs: readonly RescoredRun[],
  inputs: RescoreInputs,
  environment: RunRecord["environment"],
  watch: Watcher = unwatched,
): Promise<void> {
  const [only, second] = runs;
  if (only === undefined) return;
  if (second === undefined) {
    await writeRun(place, await contentsOf(only, inputs, environment), { watch });
    return;
  }
  const { names } = nameInputs(runs.map((one) => one.run.folder.shownAs));
  await writeFolderWhole(
    place.path,
    async (folder) => {
      for (const [at, run] of runs.entries()) {
        const path = join(folder, names[at] as string);
        await (place.fileSystem ?? nodeFileSystem).createFolder(path);
        const own = { path, shownAs: `${place.shownAs}/${names[at]}`, fileSystem: place.fileSystem };
        await fillRun(path, own, await contentsOf(run, inputs, environment), { watch });
      }
    },
    { shownAs: place.shownAs, fileSystem: place.fileSystem },
  );
}

async function contentsOf(
  { run, after, fingerprint }: RescoredRun,
  inputs: RescoreInputs,
  environment: RunRecord["environment"],
): Promise<RunContents> {
  const lab = inputs.lab ?? run.read.rows.lab;
  const kept = run.record.inputs.filter((input) => inputs.lab === undefined || input.role !== "names");
  const taken = new Set(kept.map((input) => input.file));
  const fresh: RunInput[] = [];
  const nameOf = new Map<string, string>();
  const addInput = (role: RunInput["role"], file: string, { sha256, bytes, rows }: ReadFile) => {
    const base = baseName(file);
    let name = base;
    for (let number = 2; taken.has(name); number++) name = `${base} (${number})`;
    taken.add(name);
    nameOf.set(file, name);
    fresh.push({ role, file: name, sha256, bytes, rows });
  };
  if (inputs.lab !== undefined) addInput("names", inputs.lab.file, inputs.lab.digest);
  const { amendments } = inputs;
  if (amendments !== undefined && after.amendments.length > 0)
    addInput("amendment", amendments.file, amendments.digest);
  const renamed = {
    names: [...nameOf.values()],
    nameOf: (path: string) => nameOf.get(path) ?? baseName(path),
    inText: (text: string) => text,
  };
  const given = await attributeFiles(after.attributes, after.shared, after.attributesFolder);
  const { id, version, hash } = run.record.reference;
  return {
    rows: { ...run.read.rows, lab },
    sheetNames: run.read.rows.table.files,
    inputs: [...kept, ...fresh],
    readingFindings: [
      ...run.readingFindings,
      ...inputs.findings.map((one) => inRunNames(one, renamed)).filter((one) => taken.has(one.file)),
    ],
    amendments: [
      ...run.amendments,
      ...after.amendments.map((one) => ({
        ...one,
        place: { ...one.place, file: renamed.nameOf(one.place.file) },
      })),
    ],
    choices: after.choices,
    setChoices: { attributes: given.words, classes: after.classes },
    attributeFiles: given.files,
    set: after.set,
    setFolder: after.setFolder,
    shared: after.shared,
    tables: after.tables,
    rescoredFrom: { fingerprint, reference: { id, version, hash } },
    environment,
  };
}
