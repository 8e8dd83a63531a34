import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";

/**
 * The slow and plain second implementation that the catalogue is compared with: lists of named rows, no masks,
 * no typed arrays, no exact fractions, nothing shared with the code under test. This file knows taxa and their
 * attributes.
 */
export interface OracleRow {
  readonly taxon: string;
  readonly count: number;
  readonly richness: number;
}

const TAXA: { taxon: string; parent: string }[] = parse(
  readFileSync(new URL("../../../reference-tables/taxa/taxa.csv", import.meta.url)),
  { columns: true },
);

const PARENTS = new Map(TAXA.map(({ taxon, parent }) => [taxon, parent]));

const LINES = new Map<string, string[]>();

/** The taxon and everything above it. */
export function line(taxon: string): string[] {
  const known = LINES.get(taxon);
  if (known !== undefined) return known;
  const names: string[] = [];
  for (let at: string | undefined = taxon; at !== undefined && at !== ""; at = PARENTS.get(at))
    names.push(at);
  LINES.set(taxon, names);
  return names;
}

export function inside(row: OracleRow, ...groups: readonly string[]): boolean {
  return line(row.taxon).some((name) => groups.includes(name));
}

/** Values for the oracle's samples; some stand at higher taxa, so that look-up goes up the tree. */
export const VALUES = {
  tolerance: {
    Acentrella: "3.6",
    Acroneuria: "0.9",
    Baetis: "5",
    Caecidotea: "8",
    Caenis: "7",
    Chironomidae: "6.5",
    Chironomus: "10",
    "Corbicula fluminea": "6",
    Elmidae: "3.8",
    Epeorus: "0",
    Ephemerella: "1",
    Gammarus: "4.7",
    Glossosoma: "0.4",
    Hexatoma: "2",
    Hydropsychidae: "4.2",
    Hydropsyche: "4",
    Nemouridae: "1.5",
    Oligochaeta: "8",
    Physa: "8.4",
    Pteronarcys: "0",
    Rhyacophila: "1",
    Simulium: "6",
    Sweltsa: "1",
  },
  feeding_group: {
    Baetis: "collector-gatherer",
    Chironomidae: "collector-gatherer",
    "Corbicula fluminea": "collector-filterer",
    Elmidae: "scraper",
    Epeorus: "scraper",
    Gammarus: "omnivore",
    Glossosoma: "scraper",
    Hydropsychidae: "collector-filterer",
    Limnephilidae: "shredder",
    Nemouridae: "shredder",
    Perlidae: "predator",
    Physa: "scraper",
    Pteronarcys: "shredder",
    Simulium: "collector-filterer",
    Sweltsa: "predator",
  },
  habit: {
    Baetis: "swimmer",
    Chironomidae: "burrower",
    Elmidae: "clinger",
    Epeorus: "clinger",
    Hydropsychidae: "clinger",
    Ischnura: "climber",
    Orthocladius: "sprawler",
    Simulium: "clinger",
  },
  life_cycle: {
    Baetis: "multivoltine",
    Chironomidae: "multivoltine",
    Elmidae: "semivoltine",
    Ephemerella: "univoltine",
    Perlidae: "semivoltine",
    Sweltsa: "univoltine",
  },
  origin: { "Corbicula fluminea": "invasive", "Branchiura sowerbyi": "nonnative" },
} as const;

/** The value of a row: its own or that of the nearest above it. */
export function textOf(row: OracleRow, attribute: keyof typeof VALUES): string | undefined {
  const table: Readonly<Record<string, string>> = VALUES[attribute];
  for (const name of line(row.taxon)) if (Object.hasOwn(table, name)) return table[name];
  return undefined;
}

export function tolerance(row: OracleRow): number | undefined {
  const text = textOf(row, "tolerance");
  return text === undefined ? undefined : Number(text);
}
