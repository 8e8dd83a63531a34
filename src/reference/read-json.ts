import type { FindingSink } from "../findings/collector.ts";
import { finding, wholeFile } from "../findings/finding.ts";
import type { SetFile } from "./folder.ts";

/** The text of a JSON file of a set and what it says. */
export interface ReadJson {
  readonly text: string;
  readonly value: unknown;
}

/** Reads a JSON file of a set; a fault is a `bad-set` finding. */
export function readJson(file: SetFile, findings: FindingSink): ReadJson | undefined {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(file.bytes);
    return { text, value: JSON.parse(text) };
  } catch (error) {
    const why = error instanceof SyntaxError ? "is not JSON" : "is not UTF-8";
    findings.add(finding("bad-set", wholeFile(file.shownAs), { message: `the file ${why}` }));
    return undefined;
  }
}
