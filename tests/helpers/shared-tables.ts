import { resolve } from "node:path";
import { loadSharedTables } from "../../src/reference/shared-tables.ts";

/** The shared tables that ship with the package. */
export const shared = loadSharedTables(resolve(import.meta.dirname, "../../reference-tables"));
