import { withoutGuard } from "../files/formula-guard.ts";
import { quoted } from "../files/visible-text.ts";
import { type CellFault, FORMULA_ERROR } from "./count.ts";

/** A text cell made ready for use. */
export interface CleanCell {
  /** NFC, without white space at its ends, single blanks within. */
  readonly text: string;
  /** What is wrong with it: an error when it cannot be used, a warning for a character nobody can see. */
  readonly fault?: CellFault | undefined;
}

/** Whether a cell cannot be used for what it says. */
export function isUnusable(cell: CleanCell): boolean {
  return cell.fault !== undefined && cell.fault.code !== "invisible-character";
}

/** Printable ASCII that starts and ends with a character one can see, without two blanks in a row. */
const PLAIN = /^(?:[!-&(-~]|[!-&(-~](?:[!-~]| (?! ))*[!-~])$/;
const HASH = 35;
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters that are refused.
const CONTROL = /[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]/;
/** Soft hyphen, zero-width characters, marks that turn the direction of writing, byte order mark. */
const INVISIBLE = /[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/g;

/**
 * Makes a text cell ready: composes it (NFC), takes white space of every kind (also no-break blanks and line
 * breaks) as one blank and drops it at the ends, drops characters that nobody can see, and takes off the
 * apostrophe that our own tables put before a text that a spreadsheet would run as a formula.
 */
export function cleanCell(raw: string): CleanCell {
  if (raw === "" || (PLAIN.test(raw) && raw.charCodeAt(0) !== HASH)) return { text: raw };
  const control = CONTROL.exec(raw);
  const seen = raw.replace(INVISIBLE, "");
  const text = withoutGuard(seen.normalize("NFC").replace(/\s+/g, " ").trim());
  if (control !== null) {
    return {
      text,
      fault: {
        code: "control-character",
        message: `${quoted(raw)} holds the control character ${quoted(control[0]).slice(1, -1)}`,
      },
    };
  }
  if (FORMULA_ERROR.test(text))
    return { text, fault: { code: "error-cell", message: `${quoted(text)} is the error of a formula` } };
  if (seen.length === raw.length) return { text };
  return {
    text,
    fault: { code: "invisible-character", message: `${quoted(raw)} holds characters that cannot be seen` },
  };
}

/**
 * The text of bytes between two offsets, made ready, where it can be used as it stands; undefined when it is empty or
 * there is something to be said of it. A text of its own.
 */
export function usableText(bytes: Buffer, from: number, to: number): string | undefined {
  const { text, fault } = cleanCell(bytes.toString("utf8", from, to));
  return text === "" || fault !== undefined ? undefined : text;
}

/** The runtime copies pieces of a text that are shorter than this. */
const LEAST_SHARED = 13;

/** A text of its own: pieces of a large text keep all of it in memory as long as they live. */
export function ownText(text: string): string {
  if (text.length < LEAST_SHARED) return text;
  return Buffer.from(text, "utf16le").toString("utf16le");
}
