import type * as z from "zod";
import { didYouMean } from "./closest.ts";

/**
 * What is wrong with the settings of a metric, one sentence for each fault, naming the setting by its path.
 * A setting that the metric does not have gets the closest names.
 *
 * @param given the settings as the set writes them
 */
export function describeSettingProblems(
  error: z.ZodError,
  schema: z.ZodObject,
  given: Readonly<Record<string, unknown>>,
): string[] {
  const known = Object.keys(schema.shape);
  return error.issues.flatMap((fault) => {
    const path = fault.path.map(String).join(".");
    if (fault.code === "unrecognized_keys") {
      return fault.keys.map((key) => {
        const where = path === "" ? "" : ` in "${path}"`;
        const hint = path === "" ? didYouMean(key, known) : "";
        const list = known.length === 0 ? "it has none" : `it has ${known.join(", ")}`;
        return `unknown setting "${key}"${where}${hint === "" && path === "" ? `; ${list}` : hint}`;
      });
    }
    return [`setting "${path}" ${isMissing(given, fault.path) ? "is missing; it " : ""}${fault.message}`];
  });
}

function isMissing(given: unknown, path: readonly PropertyKey[]): boolean {
  let at = given;
  for (const key of path) at = Reflect.get(Object(at), key);
  return at === undefined;
}
