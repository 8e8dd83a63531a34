import * as z from "zod";
import type { FindingSink } from "../findings/collector.ts";
import { finding } from "../findings/finding.ts";
import { didYouMean } from "../metrics/closest.ts";
import { READ_ONCE } from "../model/read-once.ts";
import type { SetDefinition, SetDefinitionInput } from "../model/reference-set.ts";
import { setDefinitionSchema } from "../model/reference-set.ts";
import type { SetFile } from "./folder.ts";
import { placeInJson } from "./json-places.ts";
import { readJson } from "./read-json.ts";

/** set.json as read, and how to find a part of it again for a finding. */
export interface ReadDefinition {
  readonly definition: SetDefinition;
  /** As written, without defaults. */
  readonly written: SetDefinitionInput;
  /** The place of a key or an element. */
  placeOf(...path: readonly (string | number)[]): { file: string; line: number; column: number };
}

/**
 * Reads set.json: strict JSON, no key twice, every key known. Each fault is a `bad-set` finding with its line
 * and character.
 *
 * @returns undefined when there was a fault
 */
export function readDefinition(file: SetFile, findings: FindingSink): ReadDefinition | undefined {
  const json = readJson(file, findings);
  if (json === undefined) return undefined;
  const placeOf = (...path: readonly (string | number)[]) => ({
    file: file.shownAs,
    ...placeInJson(json.text, path),
  });
  const parsed = setDefinitionSchema.safeParse(json.value, { ...READ_ONCE, reportInput: true });
  // What the schema has just accepted is what it takes.
  if (parsed.success) return { definition: parsed.data, written: json.value as SetDefinitionInput, placeOf };
  for (const fault of parsed.error.issues.flatMap(describeIssue)) {
    findings.add(finding("bad-set", placeOf(...fault.path), { message: fault.message }));
  }
  return undefined;
}

interface Fault {
  readonly path: readonly (string | number)[];
  readonly message: string;
}

/** What zod found, in words: the path, then what is wrong there. */
function describeIssue(issue: z.core.$ZodIssue): Fault[] {
  const path = issue.path.map((part) => (typeof part === "symbol" ? String(part) : part));
  const at = path.length === 0 ? "" : `${path.join(".")}: `;
  switch (issue.code) {
    case "unrecognized_keys":
      return issue.keys.map((key) => ({
        path: [...path, key],
        message: `${at}"${key}" is no key of a set${didYouMean(key, allKeys())}`,
      }));
    case "invalid_type":
      return [
        {
          path,
          message:
            issue.input === undefined
              ? `${at}is missing (${expected(issue.expected)})`
              : `${at}must be ${expected(issue.expected)}`,
        },
      ];
    case "invalid_value": {
      const words = issue.values.map((value) => JSON.stringify(value)).join(" or ");
      return [
        { path, message: issue.input === undefined ? `${at}is missing (${words})` : `${at}must be ${words}` },
      ];
    }
    case "too_small":
      return [
        {
          path,
          message:
            issue.origin === "string" || issue.origin === "array"
              ? `${at}must not be empty`
              : `${at}must be ${issue.inclusive === true ? "at least" : "above"} ${issue.minimum}`,
        },
      ];
    case "too_big":
      return [{ path, message: `${at}must be at most ${issue.maximum}` }];
    case "invalid_union": {
      const nearest = [...issue.errors].sort((a, b) => a.length - b.length)[0] ?? [];
      const inner = nearest.flatMap((one) => describeIssue({ ...one, path: [...issue.path, ...one.path] }));
      return inner.length > 0 ? inner : [{ path, message: `${at}has none of the forms allowed` }];
    }
    default:
      return [{ path, message: `${at}${issue.message}` }];
  }
}

function expected(type: string): string {
  const words: Record<string, string> = {
    string: "a text",
    number: "a number",
    int: "a whole number",
    boolean: "true or false",
    array: "a list",
    object: "an object",
    record: "an object",
  };
  return words[type] ?? type;
}

/** Every key that occurs anywhere in a set, for suggestions. */
function allKeys(): Set<string> {
  const keys = new Set<string>();
  const walk = (node: unknown): void => {
    if (typeof node !== "object" || node === null) return;
    for (const [key, value] of Object.entries(node)) {
      if (key === "properties" && typeof value === "object" && value !== null) {
        for (const name of Object.keys(value)) keys.add(name);
      }
      walk(value);
    }
  };
  walk(z.toJSONSchema(setDefinitionSchema, { io: "input" }));
  return keys;
}
