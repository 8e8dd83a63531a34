import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { readRecords } from "./records.ts";

/** One decision of the lab: what a name on its sheets stands for. */
export interface LabName {
  readonly accepted: string;
  readonly line: number;
  readonly note: string;
}

/** The lab's own list of names. */
export interface LabNames {
  /** By the name on the sheet as written: composed (NFC), white space collapsed, none at its ends. */
  readonly entries: ReadonlyMap<string, LabName>;
  /** How findings name the file. */
  readonly file: string;
  /** True when a fault could hide or mix up any row, or two rows contradict each other. */
  readonly unreadable: boolean;
  readonly digest: ReadFile;
}

/**
 * Reads the lab's list of names (sheet_name, accepted_name, note). A row without an accepted name is an open
 * case, as `check --write-names` writes it; it decides nothing and is pointed out.
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readNamesList(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<LabNames> {
  const entries = new Map<string, LabName>();
  const read = await readRecords(
    input,
    options,
    {
      kind: "list of names",
      known: ["sheet_name", "accepted_name", "note"],
      required: ["sheet_name", "accepted_name"],
      extra: "ignored",
      key: "sheet_name",
    },
    // A list may well be empty; that is no doubt about any sample.
    { add: (one) => findings.add(one.code === "no-rows" ? { ...one, severity: "note" } : one) },
    (record) => {
      const accepted = record.text("accepted_name");
      if (accepted === "") {
        record.fault("accepted_name", {
          code: "open-name",
          message: `${quoted(record.key)} has no accepted name yet`,
        });
        return;
      }
      const earlier = entries.get(record.key);
      if (earlier === undefined) {
        entries.set(record.key, { accepted, line: record.line, note: record.text("note") });
      } else if (earlier.accepted === accepted) {
        record.fault("sheet_name", {
          code: "repeated-name",
          message: `${quoted(record.key)} stands in line ${earlier.line} already, with the same accepted name`,
        });
      } else {
        record.fault("accepted_name", {
          code: "conflicting-names",
          message: `${quoted(record.key)} is ${quoted(accepted)} here and ${quoted(earlier.accepted)} in line ${earlier.line}`,
        });
      }
    },
  );
  return {
    entries,
    file: read.place,
    unreadable: read.unreadable || read.spoilt.size > 0,
    digest: read.digest,
  };
}
