/**
 * A small invented study of precision: ten riffles of the Vennaloo, each netted twice or three times side by side
 * on one day. Values of a sample: index, taxa, EPT taxa, percent dominant taxon, tolerance index; null for a
 * sample that was not scored.
 */
export const DUPLICATE_VISITS = [
  visit("U5", "2024-06-03", "upland", [91.2, 38, 22, 18.5, 2.61], [88.7, 36, 21, 19.5, 2.74]),
  visit("U6", "2024-06-03", "upland", [84.0, 34, 19, 22, 2.95], [78.8, 31, 18, 24.5, 3.02]),
  visit(
    "U7",
    "2024-06-04",
    "upland",
    [76.1, 31, 17, 25, 3.3],
    [79.4, 33, 17, 23, 3.24],
    [74.9, 30, 16, 26.5, 3.41],
  ),
  visit("V5", "2024-06-05", "valley", [66.5, 29, 13, 27.5, 3.9], [71.3, 31, 15, 25, 3.78]),
  visit("V6", "2024-06-05", "valley", [58.2, 26, 11, 31, 4.35], [61.7, 27, 11, 29.5, 4.21]),
  visit("V7", "2024-06-06", "valley", [49.6, 23, 9, 34, 4.8], [47.1, 22, 8, 36.5, 4.92]),
  visit("V8", "2024-06-06", "valley", [43.3, 21, 7, 38.5, 5.13], null),
  visit("L5", "2024-06-10", "lowland", [37.5, 18, 5, 41, 5.62], [30.0, 16, 4, 45.5, 5.9]),
  visit("L6", "2024-06-10", "lowland", [25.0, 14, 2, 48, 6.31], [27.5, 15, 2, 46.5, 6.2]),
  visit("L7", "2024-06-11", "lowland", [12.5, 9, 0, 61, 7.4], [10.0, 8, 0, 64.5, 7.52]),
];

/** From best to worst, with the least index of each; the classes of the demo set. */
const RATINGS = [
  ["excellent", 80],
  ["good", 60],
  ["fair", 40],
  ["poor", 20],
  ["very poor", 0],
];

function visit(site, date, stratum, ...samples) {
  return { site, date, stratum, samples };
}

function sampleId({ site, date }, at) {
  return `${site}-${date.slice(0, 7)}${at === 0 ? "" : `-${"DE"[at - 1]}`}`;
}

/** The row of a sample in the log: every sample but the first of a visit repeats the first. */
export function logRow(one, at) {
  return {
    sample_id: sampleId(one, at),
    site_id: one.site,
    collected_on: one.date,
    stratum: one.stratum,
    duplicate_of: at === 0 ? "" : sampleId(one, 0),
  };
}

/** The row of a sample in the table of scores. */
export function scoreRow(one, at) {
  const base = {
    sample_id: sampleId(one, at),
    site_id: one.site,
    collected_on: one.date,
    stratum: one.stratum,
  };
  const values = one.samples[at];
  if (values === null) return { ...base, status: "refused" };
  const [index, taxa, ept, dominant, tolerance] = values;
  return {
    ...base,
    status: "scored",
    index,
    rating: RATINGS.find(([, least]) => index >= least)[0],
    taxa_richness: taxa,
    ept_richness: ept,
    percent_dominant_taxon: dominant,
    tolerance_index: tolerance,
  };
}
