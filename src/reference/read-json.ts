import { parseJson } from "../files/json.ts";
import type { FindingSink } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import type { SetFile } from "./folder.ts";

/** The text of a JSON file of a set and what it says. */
export interface ReadJson {
  readonly text: string;
  readonly value: unknown;
}

/** Reads a JSON file of a set, with no key twice in an object; a fault is a `bad-set` finding with its place. */
export function readJson(file: SetFile, findings: FindingSink): ReadJson | undefined {
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(file.bytes);
  } catch {
    findings.add(finding("bad-set", wholeFile(file.shownAs), { message: "the file is not UTF-8 text" }));
    return undefined;
  }
  const parsed = parseJson(text);
  if ("value" in parsed) return { text, value: parsed.value };
  const { line, column, message } = parsed.fault;
  findings.add(finding("bad-set", { file: file.shownAs, line, column }, { message }));
  return undefined;
}
