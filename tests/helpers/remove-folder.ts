import { chmodSync, type Dirent, lstatSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";

/** Removes a folder and all in it, also what a test took the rights from. */
export function removeFolder(folder: string): void {
  try {
    rmSync(folder, { recursive: true, force: true });
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== "EACCES" && code !== "EPERM") throw error;
    giveRights(folder);
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Only rights of a folder stand in the way of removing what is in it. */
function giveRights(folder: string): void {
  if (!lstatSync(folder).isDirectory()) return;
  chmodSync(folder, 0o700);
  for (const entry of readdirSync(folder, { withFileTypes: true }) as Dirent[])
    if (entry.isDirectory()) giveRights(join(folder, entry.name));
}
