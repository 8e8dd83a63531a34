import { quoted } from "../files/visible-text.ts";
import type { LogColumn } from "../model/sample-facts.ts";
import { parseTray } from "../subsample/tray.ts";
import type { CellFault } from "./count.ts";
import { parseIsoDate, parseNumber, parseShare, parseWhole, parseYesNo } from "./values.ts";

/** The form that a column of the sample log must have. */
interface LogValueRule {
  /** Whether the column decides about scores; a fault in it then refuses the sample, else it is a warning. */
  readonly decides: boolean;
  /** What to write instead, or undefined when the text is in order. */
  readonly hint: (text: string) => string | undefined;
  readonly codes: { readonly decides: CellFault["code"]; readonly records: CellFault["code"] };
}

const DATES = { decides: "bad-date", records: "odd-date" } as const;
const NUMBERS = { decides: "bad-number", records: "odd-number" } as const;
const SHARES = { decides: "bad-share", records: "odd-share" } as const;

const date = (decides: boolean): LogValueRule => ({
  decides,
  codes: DATES,
  hint: (text) => {
    const read = parseIsoDate(text);
    return "hint" in read ? read.hint : undefined;
  },
});
const number = (decides: boolean, least: number, most: number, isLeastOpen = false): LogValueRule => ({
  decides,
  codes: NUMBERS,
  hint: (text) => {
    const read = parseNumber(text);
    if ("hint" in read) return read.hint;
    if (read.value < least || (isLeastOpen && read.value === least) || read.value > most)
      return most === Number.POSITIVE_INFINITY
        ? `it must be ${isLeastOpen ? "above" : "at least"} ${least}`
        : `it must be from ${least} to ${most}`;
    return undefined;
  },
});
const whole = (decides: boolean, least: number): LogValueRule => ({
  decides,
  codes: NUMBERS,
  hint: (text) => {
    const read = parseWhole(text);
    return read === undefined || read < least ? `write a whole number from ${least}` : undefined;
  },
});
const share = (decides: boolean, orZero: boolean): LogValueRule => ({
  decides,
  codes: SHARES,
  hint: (text) => {
    const read = parseShare(text, orZero);
    return "hint" in read ? read.hint : undefined;
  },
});
const yesNo: LogValueRule = {
  decides: false,
  codes: { decides: "odd-value", records: "odd-value" },
  hint: (text) => (parseYesNo(text) === undefined ? "write yes or no" : undefined),
};
const tray: LogValueRule = {
  decides: true,
  codes: { decides: "bad-tray", records: "bad-tray" },
  hint: (text) =>
    parseTray(text) === undefined ? "write rows x columns of grids, for instance 5x6" : undefined,
};

const INFINITE = Number.POSITIVE_INFINITY;
const RULES: ReadonlyMap<LogColumn, LogValueRule> = new Map<LogColumn, LogValueRule>([
  ["collected_on", date(true)],
  ["received_on", date(false)],
  ["sorted_on", date(false)],
  ["latitude", number(false, -90, 90)],
  ["longitude", number(false, -180, 180)],
  ["mesh_um", number(false, 0, INFINITE, true)],
  ["area_sampled_m2", number(true, 0, INFINITE, true)],
  ["tray", tray],
  ["grids_sorted", number(true, 0, INFINITE, true)],
  ["fraction_sorted", share(true, false)],
  ["target", whole(true, 1)],
  ["containers_expected", whole(true, 1)],
  ["containers_received", whole(true, 0)],
  ["preservative_fraction", share(false, true)],
  ["sample_water_ml", number(false, 0, INFINITE)],
  ["ethanol_ml", number(false, 0, INFINITE)],
  ["ethanol_percent", number(false, 0, 100)],
  ["trainee", yesNo],
  ["large_rare_searched", yesNo],
]);

/** What is wrong with the form of a cell of the sample log; nothing for columns of free text. */
export function logValueFault(column: LogColumn, text: string): CellFault | undefined {
  const rule = RULES.get(column);
  const hint = rule?.hint(text);
  if (rule === undefined || hint === undefined) return undefined;
  const code = rule.decides ? rule.codes.decides : rule.codes.records;
  return { code, message: `${column} ${quoted(text)} cannot be used`, hint };
}
