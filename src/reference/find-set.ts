import { readdir, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { asFileError, FileError, systemCode } from "../files/file-error.ts";
import { closestTexts } from "../metrics/closest.ts";
import { compareCodePoints } from "../model/order.ts";
import type { SetFolder } from "./folder.ts";

/** Where sets are looked up. */
export interface SetPlaces {
  /** The package's `reference-tables` folder. */
  readonly packageTables: string;
  /** The current folder; its `reference-tables/sets` comes after the package's, and paths are relative to it. */
  readonly cwd: string;
}

/** A set id that no folder has: the user's word is wrong, not a file. */
export class UnknownSetError extends Error {
  readonly hint: string;

  constructor(id: string, close: readonly string[]) {
    const near = close.length === 0 ? "" : `; did you mean ${close.map((one) => `"${one}"`).join(" or ")}?`;
    super(`there is no reference set "${id}"${near}`);
    this.name = "UnknownSetError";
    this.hint = "jartally reference list shows the sets; a path to a set folder is taken too";
  }
}

/** A set that can be used by its id. */
export interface ListedSet {
  readonly id: string;
  readonly folder: SetFolder;
}

/**
 * Finds the folder of a set: by id in the package's sets, then in those of the current folder; or as a path
 * (anything with a slash, a dot at its start, or an existing folder with a set.json).
 *
 * @throws UnknownSetError for an id that is nowhere, with the closest ids
 * @throws FileError for a path that is no set folder
 */
export async function findSetFolder(idOrPath: string, places: SetPlaces): Promise<SetFolder> {
  const isId = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(idOrPath);
  if (isId) {
    for (const root of rootsOf(places)) {
      const folder = folderOf(root, idOrPath);
      if (await hasSet(folder.path, folder.shownAs)) return folder;
    }
  }
  const path = resolve(places.cwd, idOrPath);
  if (await hasSet(path, idOrPath)) return { path, shownAs: idOrPath };
  if (isPath(idOrPath)) {
    const isThere = (await kindOf(path, idOrPath)) !== "nothing";
    throw new FileError(idOrPath, isThere ? "is no set folder: it has no set.json" : "no such folder");
  }
  const ids = (await listSets(places)).map((one) => one.id);
  const near = [...new Set([...closestTexts(idOrPath, ids), ...startingAlike(idOrPath, ids)])];
  throw new UnknownSetError(idOrPath, near.slice(0, 3));
}

/** Every set of the package and of the current folder, by id; the package's comes first where both have one. */
export async function listSets(places: SetPlaces): Promise<ListedSet[]> {
  const found = new Map<string, ListedSet>();
  for (const root of rootsOf(places)) {
    for (const id of await foldersIn(root.path, root.shownAs)) {
      const folder = folderOf(root, id);
      if (found.has(id) || !(await hasSet(folder.path, folder.shownAs))) continue;
      found.set(id, { id, folder });
    }
  }
  return [...found.values()].sort((a, b) => compareCodePoints(a.id, b.id));
}

/** The folders that hold sets, the one that wins first. */
function rootsOf(places: SetPlaces): readonly SetFolder[] {
  const shownAs = "reference-tables/sets";
  return [
    { path: join(places.packageTables, "sets"), shownAs },
    { path: join(places.cwd, "reference-tables", "sets"), shownAs },
  ];
}

function folderOf(root: SetFolder, id: string): SetFolder {
  return { path: join(root.path, id), shownAs: `${root.shownAs}/${id}` };
}

/** A word of the id is often all that is remembered, and not always to the letter: "virginia", "venaloo". */
function startingAlike(word: string, ids: readonly string[]): string[] {
  const wanted = word.toLowerCase();
  if (wanted.length < 3) return [];
  const holding = ids.filter((id) => id.includes(wanted));
  return holding.length > 0
    ? holding
    : ids.filter(
        (id) =>
          closestTexts(
            wanted,
            id.split("-").filter((part) => part.length > 3),
          ).length > 0,
      );
}

function isPath(word: string): boolean {
  return /[\\/]/.test(word) || word.startsWith(".");
}

async function hasSet(folder: string, shownAs: string): Promise<boolean> {
  return (await kindOf(join(folder, "set.json"), `${shownAs}/set.json`)) === "file";
}

async function kindOf(path: string, shownAs: string): Promise<"file" | "folder" | "nothing"> {
  try {
    return (await stat(path)).isDirectory() ? "folder" : "file";
  } catch (error) {
    if (["ENOENT", "ENOTDIR"].includes(systemCode(error) ?? "")) return "nothing";
    throw asFileError(shownAs, error);
  }
}

async function foldersIn(root: string, shownAs: string): Promise<string[]> {
  try {
    return (await readdir(root, { withFileTypes: true }))
      .filter((entry) => entry.isDirectory() || entry.isSymbolicLink())
      .map((entry) => entry.name);
  } catch (error) {
    if (systemCode(error) === "ENOENT" || systemCode(error) === "ENOTDIR") return [];
    throw asFileError(shownAs, error);
  }
}
