import type { PublishedRow } from "../../helpers/metrics/little-tree.ts";

/**
 * Three bench count sheets of the Iowa DNR River & Stream Biological Monitoring public records, invertebrate
 * sampling records 6091 (2013-09-16), 5349 (2012-09-05) and 5521 (2012-08-07),
 * https://programs.iowadnr.gov/. The count of the last row of 5521 (5) is the printed total less the other rows.
 */
export interface PublishedSheet {
  readonly record: string;
  readonly rows: readonly PublishedRow[];
  /** Rows that have finer rows of their line beside them. */
  readonly ambiguous: readonly string[];
  readonly printed: { readonly lines: number; readonly individuals: number };
  /** Worked from the printed counts by hand, not printed: two decimals, Shannon four. */
  readonly worked: {
    readonly distinct: number;
    readonly ept: number;
    readonly percentEpt: number;
    readonly percentChironomidae: number;
    readonly dominant1: number;
    readonly dominant3: number;
    readonly shannon: number;
    readonly shannon2: number;
  };
}

function row(name: string, order: string, family: string, count: number): PublishedRow {
  return { name, order, family, count };
}

export const IOWA_SHEETS: readonly PublishedSheet[] = [
  {
    record: "6091",
    rows: [
      row("Ancylidae", "Basommatophora", "Ancylidae", 1),
      row("Baetis intercalaris", "Ephemeroptera", "Baetidae", 3),
      row("Caenidae", "Ephemeroptera", "Caenidae", 1),
      row("Cheumatopsyche", "Trichoptera", "Hydropsychidae", 23),
      row("Chironomidae", "Diptera", "Chironomidae", 15),
      row("Hetaerina", "Odonata", "Calopterygidae", 1),
      row("Hydropsyche betteni", "Trichoptera", "Hydropsychidae", 44),
      row("Hydropsychidae", "Trichoptera", "Hydropsychidae", 9),
      { name: "Oligochaeta", count: 2 },
      row("Physa", "Basommatophora", "Physidae", 9),
    ],
    ambiguous: ["Hydropsychidae"],
    printed: { lines: 10, individuals: 108 },
    worked: {
      distinct: 9,
      ept: 4,
      percentEpt: 74.07,
      percentChironomidae: 13.89,
      dominant1: 40.74,
      dominant3: 75.93,
      shannon: 1.687,
      shannon2: 2.4338,
    },
  },
  {
    record: "5349",
    rows: [
      row("Baetidae", "Ephemeroptera", "Baetidae", 1),
      row("Cheumatopsyche", "Trichoptera", "Hydropsychidae", 29),
      row("Chironomidae", "Diptera", "Chironomidae", 55),
      row("Fallceon quilleri", "Ephemeroptera", "Baetidae", 1),
      row("Heptageniidae", "Ephemeroptera", "Heptageniidae", 1),
      row("Hydropsyche simulans", "Trichoptera", "Hydropsychidae", 6),
      row("Hydropsychidae", "Trichoptera", "Hydropsychidae", 6),
      row("Hydroptila", "Trichoptera", "Hydroptilidae", 1),
      { name: "Oligochaeta", count: 1 },
      row("Potamyia flava", "Trichoptera", "Hydropsychidae", 1),
    ],
    ambiguous: ["Baetidae", "Hydropsychidae"],
    printed: { lines: 10, individuals: 102 },
    worked: {
      distinct: 8,
      ept: 6,
      percentEpt: 45.1,
      percentChironomidae: 53.92,
      dominant1: 53.92,
      dominant3: 88.24,
      shannon: 1.296,
      shannon2: 1.8697,
    },
  },
  {
    record: "5521",
    rows: [
      row("Acentrella parvula", "Ephemeroptera", "Baetidae", 2),
      row("Caenis hilaris", "Ephemeroptera", "Caenidae", 1),
      row("Chironomidae", "Diptera", "Chironomidae", 4),
      row("Corydalus", "Megaloptera", "Corydalidae", 1),
      row("Fallceon quilleri", "Ephemeroptera", "Baetidae", 5),
      row("Girardia", "Tricladida", "Dugesiidae", 4),
      row("Hydroptila", "Trichoptera", "Hydroptilidae", 1),
      row("Isonychia", "Ephemeroptera", "Isonychiidae", 6),
      row("Leucrocuta", "Ephemeroptera", "Heptageniidae", 6),
      row("Maccaffertium exiguum", "Ephemeroptera", "Heptageniidae", 4),
      row("Maccaffertium mexicanum", "Ephemeroptera", "Heptageniidae", 1),
      row("Maccaffertium terminatum", "Ephemeroptera", "Heptageniidae", 29),
      row("Optioservus fastiditus", "Coleoptera", "Elmidae", 1),
      row("Polycentropus", "Trichoptera", "Polycentropodidae", 5),
      row("Stenacron interpunctatum", "Ephemeroptera", "Heptageniidae", 15),
      row("Stenelmis", "Coleoptera", "Elmidae", 3),
      row("Stenelmis decorata", "Coleoptera", "Elmidae", 1),
      row("Stenelmis grossa", "Coleoptera", "Elmidae", 3),
      row("Tricorythodes", "Ephemeroptera", "Leptohyphidae", 5),
    ],
    ambiguous: ["Stenelmis"],
    printed: { lines: 19, individuals: 97 },
    worked: {
      distinct: 18,
      ept: 12,
      percentEpt: 82.47,
      percentChironomidae: 4.12,
      dominant1: 29.9,
      dominant3: 51.55,
      shannon: 2.4249,
      shannon2: 3.4984,
    },
  },
];
