/** What the words of an option or an operand are, and so where completion finds them. */
export type ValueKind =
  | "files"
  | "folders"
  | "sets"
  | "metrics"
  | "samples"
  | "strata"
  | "classes"
  | "schemes"
  | "nothing";

/** By the name that help gives the value, as in `--samples <log>`; other values are typed, not chosen. */
const KIND_OF_VALUE: ReadonlyMap<string, ValueKind> = new Map([
  ["file", "files"],
  ["log", "files"],
  ["list", "files"],
  ["sheet", "files"],
  ["check", "files"],
  ["scores", "files"],
  ["picks", "files"],
  ["primary", "files"],
  ["recheck", "files"],
  ["dir", "folders"],
  ["folders", "folders"],
  ["run", "folders"],
  ["set", "sets"],
  ["first", "sets"],
  ["second", "sets"],
  ["metric", "metrics"],
  ["metrics", "metrics"],
  ["sample", "samples"],
  ["stratum", "strata"],
  ["classes", "classes"],
  ["table", "schemes"],
]);

/** The kind of a value by its name; `<sheet...>` and `[sheet]` are both `sheet`. */
export function kindOfValue(name: string): ValueKind {
  return KIND_OF_VALUE.get(name.replace(/[<>[\].]/g, "")) ?? "nothing";
}
