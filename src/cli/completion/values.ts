import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { packageRoot } from "../../files/package-root.ts";
import { findSetFolder, listSets } from "../../reference/find-set.ts";
import type { SetFolder } from "../../reference/folder.ts";
import { settingName } from "../settings.ts";
import { METRIC_WORDS } from "./metric-words.ts";
import type { Offer } from "./offers.ts";
import { optionFlags } from "./option-flags.ts";
import { firstCells, sampleIdsIn } from "./sample-ids.ts";
import type { TypedLine } from "./typed-line.ts";
import { kindOfValue, type ValueKind } from "./value-kinds.ts";

/**
 * The words of a kind that stand in files and tables and not in the registry of commands.
 *
 * @param cwd the folder in which the paths of the line are looked up
 */
export async function valuesOf(kind: ValueKind, line: TypedLine, cwd: string): Promise<readonly Offer[]> {
  switch (kind) {
    case "sets":
      return setOffers(cwd);
    case "metrics":
      return metricOffers(line, cwd);
    case "samples":
      return sampleOffers(line, cwd);
    case "strata":
      return listOffers((await chosenSet(line, cwd))?.strata);
    case "classes": {
      const set = await chosenSet(line, cwd);
      return [...listOffers(set === undefined ? [] : [set.ratings]), ...listOffers(set?.other_ratings)];
    }
    case "schemes": {
      const table = join(packageRoot(), "reference-tables/attributes/schemes.csv");
      return (await firstCells(table)).map((word) => ({ word, about: "" }));
    }
    default:
      return [];
  }
}

async function setOffers(cwd: string): Promise<Offer[]> {
  const sets = await listSets({ packageTables: tablesFolder(), cwd });
  return Promise.all(
    sets.map(async ({ id, folder }) => ({ word: id, about: textOf((await readDefinition(folder)).title) })),
  );
}

/** The metrics of the set named come first, by the names that the set gives them. */
async function metricOffers(line: TypedLine, cwd: string): Promise<Offer[]> {
  const isOfSet = line.open !== undefined && optionFlags(line.open).long === "--metric";
  const ofSet = isOfSet ? listOffers((await chosenSet(line, cwd))?.metrics) : [];
  const names = new Map([...ofSet, ...METRIC_WORDS].map((offer) => [offer.word, offer]));
  return [...names.values()];
}

/** Samples of the sheets or runs on the line; where these give none, of the log. */
async function sampleOffers(line: TypedLine, cwd: string): Promise<Offer[]> {
  const { command, operands } = line;
  const named = command?.operands.some(({ name }) => ["files", "folders"].includes(kindOfValue(name)));
  const ids = new Set<string>();
  for (const path of named === true ? operands : [])
    for (const id of await sampleIdsIn(path, cwd)) ids.add(id);
  const log = line.given.get("--samples") ?? (await fromSettings(line, "samples", cwd));
  if (ids.size === 0 && log !== undefined) for (const id of await sampleIdsIn(log, cwd)) ids.add(id);
  return [...ids].map((word) => ({ word, about: "" }));
}

type JsonObject = Readonly<Record<string, unknown>>;

/** The definition of the set that the line or the settings file names. */
async function chosenSet(line: TypedLine, cwd: string): Promise<JsonObject | undefined> {
  const word = line.given.get("--reference") ?? (await fromSettings(line, "reference", cwd));
  if (word === undefined) return undefined;
  return readDefinition(await findSetFolder(word, { packageTables: tablesFolder(), cwd }));
}

function tablesFolder(): string {
  return join(packageRoot(), "reference-tables");
}

/** Looked at as it is: whether a set is sound is another command's business, and the schema takes long to load. */
async function readDefinition(folder: SetFolder): Promise<JsonObject> {
  const text = await readFile(join(folder.path, "set.json"), "utf8").catch(() => "{}");
  return parsed(text);
}

function parsed(text: string): JsonObject {
  try {
    const value: unknown = JSON.parse(text);
    return isObject(value) ? value : {};
  } catch {
    return {};
  }
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function textOf(value: unknown): string {
  return typeof value === "string" ? value : "";
}

/** The ids of a list of a set's definition, and what it calls them. */
function listOffers(list: unknown): Offer[] {
  if (!Array.isArray(list)) return [];
  return list
    .filter(isObject)
    .map(({ id, title, note }) => ({ word: textOf(id), about: textOf(title) || textOf(note) }));
}

/** What the settings file of the folder says of an option, for this command or for all. */
async function fromSettings(line: TypedLine, name: string, cwd: string): Promise<string | undefined> {
  const isKnown = line.command?.options.some(({ flags }) => settingName(flags) === name);
  if (isKnown !== true || line.command?.ignoresSettings === true || line.given.has("--no-settings"))
    return undefined;
  const settings = parsed(await readFile(join(cwd, "jartally.json"), "utf8").catch(() => "{}"));
  const own = Object.entries(settings).find(([key]) => key === line.path.join(" "))?.[1];
  const word = Object.entries(isObject(own) ? { ...settings, ...own } : settings).find(
    ([key]) => key === name,
  )?.[1];
  return typeof word === "string" ? word : undefined;
}
