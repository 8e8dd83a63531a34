import type { Finding } from "../../findings/finding.ts";
import { at } from "../../model/at.ts";
import type { SampleFacts } from "../../model/sample-facts.ts";
import { fact, numericFact } from "../../model/sample-facts.ts";
import type { BatchPlace, IntakeRule } from "./rule.ts";
import { intakeFinding } from "./rule.ts";

/** Square metres that a net, frame, core or multi-habitat composite may sample (common practice, no source). */
const AREAS = { least: 0.001, most: 100 };
/** Degrees from the middle of the batch that ask whether a sign was forgotten, and degrees that are near it. */
const FAR = 10;
const NEAR = 2;
/** Kilometres that samples of one site may lie apart. */
const SITE_KM = 1;
const KM_PER_DEGREE = 111.2;

/** An area that no gear samples; most often other units. */
export const areaRule: IntakeRule = {
  name: "area sampled",
  codes: ["odd-area"],
  check: (facts) => {
    const area = numericFact(facts, "area_sampled_m2");
    if (area === undefined || area <= 0 || (area >= AREAS.least && area <= AREAS.most)) return [];
    const message = `area_sampled_m2 of ${facts.sampleId} is ${fact(facts, "area_sampled_m2")}`;
    return [intakeFinding("odd-area", facts, "area_sampled_m2", message)];
  },
};

/** Coordinates that cannot be right. */
export const placeRule: IntakeRule = {
  name: "coordinates",
  codes: ["odd-place"],
  check: (facts, { middle }) => {
    const latitude = fact(facts, "latitude");
    const longitude = fact(facts, "longitude");
    const odd = (column: string, message: string) => [intakeFinding("odd-place", facts, column, message)];
    if ((latitude === undefined) !== (longitude === undefined)) {
      const [there, missing] = latitude === undefined ? ["longitude", "latitude"] : ["latitude", "longitude"];
      return odd(missing, `sample ${facts.sampleId} has a ${there} and no ${missing}`);
    }
    const place = placeOf(facts);
    if (place === undefined) return [];
    if (place.latitude === 0 && place.longitude === 0)
      return odd("latitude", `latitude and longitude of ${facts.sampleId} are both 0`);
    if (middle === undefined || isWithin(place, middle, FAR)) return [];
    const meant = likelyMeant(place).find((other) => isWithin(other, middle, NEAR));
    if (meant === undefined) return [];
    return odd(
      "latitude",
      `${latitude}, ${longitude} of ${facts.sampleId} lies far from the others; ${meant.latitude}, ${meant.longitude} would lie among them`,
    );
  },
};

/** What belongs to a site is the same for all its samples. */
export const siteRule: IntakeRule = {
  name: "facts of a site",
  codes: ["site-differs"],
  check: (facts, { firstOfSite }) => {
    const site = fact(facts, "site_id");
    const first = site === undefined ? undefined : firstOfSite.get(site);
    if (site === undefined || first === undefined || first.sampleId === facts.sampleId) return [];
    const findings: Finding[] = [];
    for (const column of ["stratum", "waterbody"] as const) {
      const here = fact(facts, column);
      const there = fact(first, column);
      if (here === undefined || there === undefined || here === there) continue;
      const message = `site ${site} has the ${column} "${here}" for ${facts.sampleId} and "${there}" for ${first.sampleId} (line ${first.line})`;
      findings.push(intakeFinding("site-differs", facts, column, message));
    }
    const [here, there] = [placeOf(facts), placeOf(first)];
    const apart = here === undefined || there === undefined ? 0 : kilometres(here, there);
    if (apart > SITE_KM) {
      const message = `${facts.sampleId} lies ${apart.toFixed(1)} km from ${first.sampleId} (line ${first.line}), and both are of site ${site}`;
      findings.push(intakeFinding("site-differs", facts, "latitude", message));
    }
    return findings;
  },
};

/** The place of a sample; undefined when a coordinate is missing or out of range, which reading the log reports. */
export function placeOf(facts: SampleFacts): BatchPlace | undefined {
  const latitude = numericFact(facts, "latitude");
  const longitude = numericFact(facts, "longitude");
  if (latitude === undefined || longitude === undefined) return undefined;
  if (Math.abs(latitude) > 90 || Math.abs(longitude) > 180) return undefined;
  return { latitude, longitude };
}

/** The middle of the places: the median of each coordinate, which a few slips do not move. */
export function middleOf(places: readonly BatchPlace[]): BatchPlace | undefined {
  if (places.length < 3) return undefined;
  const median = (values: readonly number[]) =>
    at(
      [...values].sort((a, b) => a - b),
      Math.floor(values.length / 2),
    );
  return {
    latitude: median(places.map((place) => place.latitude)),
    longitude: median(places.map((place) => place.longitude)),
  };
}

/** The slips of coordinates: a sign, both signs, the two exchanged, and that with a sign. */
function likelyMeant({ latitude, longitude }: BatchPlace): BatchPlace[] {
  const pairs: readonly (readonly [number, number])[] = [
    [latitude, -longitude],
    [-latitude, longitude],
    [-latitude, -longitude],
    [longitude, latitude],
    [longitude, -latitude],
    [-longitude, latitude],
    [-longitude, -latitude],
  ];
  return pairs.map(([first, second]) => ({ latitude: first, longitude: second }));
}

function isWithin(a: BatchPlace, b: BatchPlace, degrees: number): boolean {
  return Math.abs(a.latitude - b.latitude) <= degrees && degreesBetween(a.longitude, b.longitude) <= degrees;
}

/** Longitudes meet at 180 degrees. */
function degreesBetween(a: number, b: number): number {
  const apart = Math.abs(a - b);
  return Math.min(apart, 360 - apart);
}

/** Distance on a flat map, good enough for a few kilometres. */
function kilometres(a: BatchPlace, b: BatchPlace): number {
  const east = degreesBetween(a.longitude, b.longitude) * Math.cos((a.latitude * Math.PI) / 180);
  return Math.hypot(a.latitude - b.latitude, east) * KM_PER_DEGREE;
}
