import { quoted } from "../files/visible-text.ts";
import { didYouMean } from "../metrics/closest.ts";
import type { LifeStage } from "../model/life-stage.ts";
import { LIFE_STAGES, parseLifeStage } from "../model/life-stage.ts";
import type { RareFacts } from "../model/rows.ts";
import { ROW_FLAGS } from "../model/rows.ts";
import { cleanCell, isUnusable, ownText } from "./cell-text.ts";
import type { CellFault } from "./count.ts";
import { parseExactShare, parseIsoDate, parseWhole, parseYesNo } from "./values.ts";

type RareDraft = { -readonly [Key in keyof RareFacts]: RareFacts[Key] };

/** What a row of a bench sheet says beyond sample, taxon and count. */
export interface RowFacts {
  readonly stage: LifeStage;
  /** Bits of ROW_FLAGS. */
  readonly flags: number;
  readonly rare: RareFacts | undefined;
}

interface FactsDraft {
  stage: LifeStage;
  flags: number;
  rare: RareDraft | undefined;
}

/** One column of facts: puts the text of a cell (not empty) into the draft, or says what is wrong with it. */
interface FactColumn {
  readonly name: string;
  readonly take: (text: string, draft: FactsDraft) => CellFault | undefined;
}

const FACT_COLUMNS: readonly FactColumn[] = [
  {
    name: "life_stage",
    take: (text, draft) => {
      const stage = parseLifeStage(text);
      if (stage === undefined)
        return {
          code: "unknown-life-stage",
          message: `life stage ${quoted(text)} is not known${didYouMean(text, LIFE_STAGES)}`,
        };
      draft.stage = stage;
      return undefined;
    },
  },
  flagColumn("part", [
    ["main", 0],
    ["large-rare", ROW_FLAGS.largeRare],
  ]),
  {
    name: "distinct",
    take: (text, draft) => {
      const isDistinct = parseYesNo(text);
      if (isDistinct === undefined) return badValue("distinct", text, "it is yes, no or empty");
      draft.flags |= isDistinct ? ROW_FLAGS.distinctYes : ROW_FLAGS.distinctNo;
      return undefined;
    },
  },
  flagColumn("disposition", [
    ["kept", 0],
    ["released", ROW_FLAGS.released],
  ]),
  flagColumn("count_basis", [
    ["counted", 0],
    ["expanded", ROW_FLAGS.expanded],
  ]),
  {
    name: "number_of_taxa",
    take: (text, draft) => {
      const taxa = parseWhole(text);
      if (taxa === undefined || taxa < 1)
        return badValue("number_of_taxa", text, "it is a whole number from 1");
      if (taxa > 1) rare(draft).numberOfTaxa = taxa;
      return undefined;
    },
  },
  {
    // Rows of several draws of one sample would be summed as if they were several jars.
    name: "draw",
    take: (text) =>
      /^0*([2-9]|[1-9]\d+)$/.test(text)
        ? badValue("draw", text, "keep the rows of one draw, and leave the column draw out")
        : undefined,
  },
  {
    name: "mount_fraction",
    take: (text, draft) => {
      const share = parseExactShare(text);
      if ("hint" in share) return badValue("mount_fraction", text, share.hint);
      rare(draft).mountFraction = text;
      return undefined;
    },
  },
  {
    name: "certainty",
    take: (text, draft) => {
      const certainty = parseWhole(text);
      if (certainty === undefined || certainty < 1 || certainty > 5)
        return { ...badValue("certainty", text, "it goes from 1 (most certain) to 5"), code: "odd-value" };
      rare(draft).certainty = certainty;
      return undefined;
    },
  },
  {
    name: "identified_on",
    take: (text, draft) => {
      rare(draft).identifiedOn = text;
      const date = parseIsoDate(text);
      return "hint" in date
        ? { code: "odd-value", message: `identified_on ${quoted(text)} is no date`, hint: date.hint }
        : undefined;
    },
  },
  textColumn("grid", "grid"),
  textColumn("container", "container"),
  textColumn("tray_level", "trayLevel"),
  textColumn("condition", "condition"),
  textColumn("reason", "reason"),
  textColumn("identified_by", "identifiedBy"),
  textColumn("slide_or_vial", "slideOrVial"),
  textColumn("note", "note"),
];

/** Columns that say something of a row, by name. */
export const FACT_COLUMN_NAMES: readonly string[] = FACT_COLUMNS.map((column) => column.name);

/** A cell of facts with a fault. */
export interface FactFault extends CellFault {
  /** 1-based number of the field. */
  readonly column: number;
}

const NO_FACTS: RowFacts = { stage: "unknown", flags: 0, rare: undefined };

/** Reads the facts of rows. Rows that say the same share one object. */
export class RowFactsReader {
  readonly #columns: readonly { readonly at: number; readonly take: FactColumn["take"] }[];
  /** Facts by the text of the cells that hold them; benches say the same few things over and over. */
  readonly #known = new Map<string, RowFacts>();
  #faults: FactFault[] = [];

  /** @param at known columns of the table and the 0-based numbers of their cells */
  constructor(at: ReadonlyMap<string, number>) {
    this.#columns = FACT_COLUMNS.flatMap(({ name, take }) => {
      const cell = at.get(name);
      return cell === undefined ? [] : [{ at: cell, take }];
    });
  }

  /** 0-based numbers of the cells that say something. */
  get columns(): readonly number[] {
    return this.#columns.map(({ at }) => at);
  }

  /** The facts of a row; what is wrong with its cells is in `faults` until the next row. */
  read(cells: readonly string[]): RowFacts {
    if (this.#faults.length > 0) this.#faults = [];
    if (this.#columns.length === 0) return NO_FACTS;
    const key = this.#keyOf(cells);
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const facts = this.#readNew(cells);
    if (this.#faults.length === 0 && this.#known.size < 4096) this.#known.set(ownText(key), facts);
    return facts;
  }

  get faults(): readonly FactFault[] {
    return this.#faults;
  }

  #keyOf(cells: readonly string[]): string {
    const [only] = this.#columns;
    if (only !== undefined && this.#columns.length === 1) return cells[only.at] ?? "";
    let key = "";
    for (const column of this.#columns) key += `${cells[column.at] ?? ""}\u0000`;
    return key;
  }

  #readNew(cells: readonly string[]): RowFacts {
    const draft: FactsDraft = { stage: "unknown", flags: 0, rare: undefined };
    for (const { at, take } of this.#columns) {
      const raw = cells[at] ?? "";
      if (raw === "") continue;
      const cell = cleanCell(raw);
      const found = isUnusable(cell)
        ? cell.fault
        : cell.text === ""
          ? undefined
          : take(ownText(cell.text), draft);
      if (found !== undefined) this.#faults.push({ ...found, column: at + 1 });
    }
    return draft;
  }
}

/** What is wrong with the facts of a row beside its count. */
export function rareFaults(facts: RareFacts, count: number): CellFault[] {
  const faults: CellFault[] = [];
  if (facts.numberOfTaxa !== undefined && facts.numberOfTaxa > count) {
    faults.push({
      code: "bad-value",
      message: `number_of_taxa is ${facts.numberOfTaxa}, more than the animals of the row (${count})`,
      hint: "a row cannot hold more taxa than animals",
    });
  }
  if (facts.certainty !== undefined && facts.certainty >= 3 && facts.reason === undefined) {
    faults.push({
      code: "doubtful-identification",
      message: `certainty ${facts.certainty} is given without a reason`,
    });
  }
  return faults;
}

function rare(draft: FactsDraft): RareDraft {
  draft.rare ??= {};
  return draft.rare;
}

function badValue(column: string, text: string, hint: string): CellFault {
  return { code: "bad-value", message: `${column} ${quoted(text)} cannot be used`, hint };
}

function flagColumn(name: string, values: readonly (readonly [string, number])[]): FactColumn {
  return {
    name,
    take: (text, draft) => {
      const key = text.toLowerCase().replace(/[\s_/-]+/g, "-");
      const value = values.find(([word]) => word === key);
      if (value === undefined)
        return badValue(name, text, `it is ${values.map(([word]) => word).join(" or ")}, or empty`);
      draft.flags |= value[1];
      return undefined;
    },
  };
}

function textColumn(name: string, key: TextFact): FactColumn {
  return {
    name,
    take: (text, draft) => {
      rare(draft)[key] = text;
      return undefined;
    },
  };
}

type TextFact = {
  [Key in keyof RareFacts]-?: RareFacts[Key] extends string | undefined ? Key : never;
}[keyof RareFacts];
