import { packageRoot } from "../../files/package-root.ts";
import type { SetPlaces } from "../../reference/find-set.ts";

/** Where the commands of `reference` look sets up. */
export function setPlaces(cwd: string): SetPlaces {
  return { packageTables: `${packageRoot()}/reference-tables`, cwd };
}
