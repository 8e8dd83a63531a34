import type { ExampleRow, MetricExample } from "./define.ts";

/**
 * Two little sheets on which nearly every metric is worked by hand. Counts and attribute values are made up for
 * easy arithmetic: 100 animals of a riffle in good order, 50 of a ditch.
 */
interface SheetRow extends ExampleRow {
  readonly tolerance?: string;
  readonly feedingGroup?: string;
  readonly habit?: string;
  readonly lifeCycle?: string;
  readonly origin?: string;
}

function row(
  taxon: string,
  count: number,
  tolerance: string,
  feedingGroup: string,
  habit: string,
  lifeCycle: string,
): SheetRow {
  return { taxon, count, tolerance, feedingGroup, habit, lifeCycle };
}

export const RIFFLE: readonly SheetRow[] = [
  row("Baetis", 18, "5", "collector-gatherer", "swimmer", "multivoltine"),
  row("Epeorus", 6, "0", "scraper", "clinger", "univoltine"),
  row("Ephemerella", 9, "1", "collector-gatherer", "clinger", "univoltine"),
  row("Glossosoma", 7, "0", "scraper", "clinger", "univoltine"),
  row("Hexatoma", 1, "2", "predator", "burrower", "univoltine"),
  { taxon: "Hydrachnidia", count: 3, feedingGroup: "predator" },
  row("Hydropsyche", 14, "4", "collector-filterer", "clinger", "univoltine"),
  row("Oligochaeta", 5, "8", "collector-gatherer", "burrower", "multivoltine"),
  row("Optioservus", 8, "4", "scraper", "clinger", "semivoltine"),
  row("Orthocladius", 6, "6", "collector-gatherer", "sprawler", "multivoltine"),
  row("Pisidium", 1, "8", "collector-filterer", "burrower", "univoltine"),
  row("Pteronarcys", 2, "0", "shredder", "clinger", "semivoltine"),
  row("Rhyacophila", 4, "1", "predator", "clinger", "univoltine"),
  row("Simulium", 7, "6", "collector-filterer", "clinger", "multivoltine"),
  row("Sweltsa", 5, "1", "predator", "clinger", "univoltine"),
  row("Tanytarsus", 4, "6", "collector-filterer", "climber", "multivoltine"),
];

export const DITCH: readonly SheetRow[] = [
  row("Caecidotea", 5, "8", "collector-gatherer", "sprawler", "multivoltine"),
  row("Caenis", 3, "7", "collector-gatherer", "sprawler", "univoltine"),
  row("Chironomus", 16, "10", "collector-gatherer", "burrower", "multivoltine"),
  {
    ...row("Corbicula fluminea", 4, "6", "collector-filterer", "burrower", "multivoltine"),
    origin: "invasive",
  },
  row("Hyalella azteca", 1, "8", "omnivore", "swimmer", "multivoltine"),
  row("Hydroptila", 2, "6", "piercer", "clinger", "univoltine"),
  row("Ischnura", 1, "9", "predator", "climber", "univoltine"),
  row("Oligochaeta", 12, "8", "collector-gatherer", "burrower", "multivoltine"),
  row("Physa", 6, "8", "scraper", "climber", "multivoltine"),
];

/** The attribute values of both sheets together. */
export const SHEET_ATTRIBUTES: MetricExample["attributes"] = {
  tolerance: valuesOf((entry) => entry.tolerance),
  feeding_group: valuesOf((entry) => entry.feedingGroup),
  habit: valuesOf((entry) => entry.habit),
  life_cycle: valuesOf((entry) => entry.lifeCycle),
  origin: valuesOf((entry) => entry.origin),
};

function valuesOf(pick: (entry: SheetRow) => string | undefined): Readonly<Record<string, string>> {
  const values: Record<string, string> = {};
  for (const entry of [...RIFFLE, ...DITCH]) {
    const value = pick(entry);
    if (value !== undefined) values[entry.taxon] = value;
  }
  return values;
}

// Made once and shared by all examples: the catalogue is built whenever a set is read.
const RIFFLE_ROWS = rowsOf(RIFFLE);
const DITCH_ROWS = rowsOf(DITCH);

function rowsOf(sheet: readonly SheetRow[]): readonly ExampleRow[] {
  return sheet.map(({ taxon, count }) => ({ taxon, count }));
}

/** What an example may have beside sheet, value and working. */
export type ExampleExtras = Partial<Pick<MetricExample, "settings" | "context" | "reference">>;

/** A value worked on the sheet of the riffle. */
export function onRiffle(value: number | null, working: string, extras: ExampleExtras = {}): MetricExample {
  return standard("riffle", RIFFLE_ROWS, value, working, extras);
}

/** A value worked on the sheet of the ditch. */
export function onDitch(value: number | null, working: string, extras: ExampleExtras = {}): MetricExample {
  return standard("ditch", DITCH_ROWS, value, working, extras);
}

/** A value worked on a sheet of its own. */
export function onSheet(
  sheet: readonly (readonly [taxon: string, count: number, richness?: number])[],
  value: number | null,
  working: string,
  extras: ExampleExtras & Partial<Pick<MetricExample, "attributes">> = {},
): MetricExample {
  return {
    sheetName: "",
    sheet: sheet.map(([taxon, count, richness]) => ({ taxon, count, richness })),
    attributes: extras.attributes ?? {},
    settings: extras.settings ?? {},
    context: extras.context ?? {},
    reference: extras.reference,
    value,
    working,
  };
}

function standard(
  sheetName: string,
  sheet: readonly ExampleRow[],
  value: number | null,
  working: string,
  extras: ExampleExtras,
): MetricExample {
  return {
    sheetName,
    sheet,
    attributes: SHEET_ATTRIBUTES,
    settings: extras.settings ?? {},
    context: extras.context ?? {},
    reference: extras.reference,
    value,
    working,
  };
}
