import type { InputFile } from "../files/input.ts";
import { quoted } from "../files/visible-text.ts";
import type { FindingSink } from "../findings/collector.ts";
import type { ReadFile, SheetOptions } from "./bench-sheet.ts";
import { readRecords } from "./records.ts";

/** Why a taxon is watched for. */
export const ALERT_KINDS = ["protected", "invasive"] as const;
export type AlertKind = (typeof ALERT_KINDS)[number];

/** The columns of the list. */
export const ALERT_COLUMNS = ["taxon", "kind", "note"] as const;

/** One taxon the lab wants to hear of. */
export interface ListedTaxon {
  readonly taxon: string;
  readonly kind: AlertKind;
  /** Whom to call, what to do; may be empty. */
  readonly note: string;
  readonly line: number;
  /** 1-based field of the taxon. */
  readonly column: number;
}

/** The lab's list of taxa to watch for. */
export interface AlertsList {
  readonly taxa: readonly ListedTaxon[];
  /** How findings name the file. */
  readonly file: string;
  /** True when a fault could hide any row, or a row cannot be used: a watch with a hole in it is refused. */
  readonly unreadable: boolean;
  readonly digest: ReadFile;
}

/**
 * Reads the lab's list of taxa to watch for (taxon, kind `protected` or `invasive`, note).
 *
 * @throws FileError when the file cannot be read any more
 */
export async function readAlertsList(
  input: InputFile,
  options: SheetOptions,
  findings: FindingSink,
): Promise<AlertsList> {
  const taxa = new Map<string, ListedTaxon>();
  const read = await readRecords(
    input,
    options,
    {
      kind: "list of taxa to watch for",
      known: ALERT_COLUMNS,
      required: ["taxon", "kind"],
      extra: "ignored",
      key: "taxon",
    },
    // A list may well be empty; that is no doubt about any sample.
    { add: (one) => findings.add(one.code === "no-rows" ? { ...one, severity: "note" } : one) },
    (record) => {
      const written = record.text("kind");
      const kind = ALERT_KINDS.find((one) => one === written.toLowerCase());
      if (kind === undefined) {
        const message = `kind ${quoted(written)} cannot be used`;
        record.fault("kind", { code: "bad-value", message, hint: `it is ${ALERT_KINDS.join(" or ")}` });
        return;
      }
      const { line, column } = record.place("taxon");
      const earlier = taxa.get(record.key);
      if (earlier === undefined) {
        taxa.set(record.key, { taxon: record.key, kind, note: record.text("note"), line, column });
        return;
      }
      const message = `${quoted(record.key)} stands in line ${earlier.line} already, as ${earlier.kind}`;
      record.fault("kind", {
        code: earlier.kind === kind ? "repeated-value" : "conflicting-values",
        message,
      });
    },
  );
  return {
    taxa: [...taxa.values()],
    file: read.place,
    unreadable: read.unreadable || read.spoilt.size > 0,
    digest: read.digest,
  };
}
