import { packageRoot } from "../files/package-root.ts";

/** The folder of the package's reference tables. */
export function packageTables(): string {
  return `${packageRoot()}/reference-tables`;
}
