import type * as z from "zod";
import { didYouMean } from "./closest.ts";

/**
 * What is wrong with the settings of a metric, one sentence for each fault, naming the setting by its path.
 * A setting that the metric does not have gets the closest names.
 */
export function describeSettingProblems(error: z.ZodError, schema: z.ZodObject): string[] {
  const known = Object.keys(schema.shape);
  return error.issues.flatMap((issue) => {
    const path = issue.path.map(String).join(".");
    if (issue.code === "unrecognized_keys") {
      return issue.keys.map((key) => {
        const where = path === "" ? "" : ` in "${path}"`;
        const hint = path === "" ? didYouMean(key, known) : "";
        const list = known.length === 0 ? "it has none" : `it has ${known.join(", ")}`;
        return `unknown setting "${key}"${where}${hint === "" && path === "" ? `; ${list}` : hint}`;
      });
    }
    return [`setting "${path}" ${issue.message}`];
  });
}
