import type { ExchangeSample } from "./exchange-sample.ts";

/** A place as it may be shown. */
export interface PublicPlace {
  readonly latitude: number;
  readonly longitude: number;
  readonly isBlurred: boolean;
}

/**
 * One decimal of a degree. How coarse the place of a sensitive species should be depends on the species; a tenth
 * of a degree is one of the usual steps (Chapman 2020, Current Best Practices for Generalizing Sensitive Species
 * Occurrence Data, GBIF; from memory).
 */
const BLURRED_DECIMALS = 1;

/**
 * Metres within which the true place lies after rounding: half the diagonal of a cell of a tenth of a degree,
 * where it is widest (a degree is at most 111.7 km), rounded up.
 */
export const BLURRED_UNCERTAINTY_M = 7900;

/** What was done to a blurred place, in words. */
export const BLURRED_TEXT = "coordinates rounded to 0.1 degree: protected animals were found at the site";

/**
 * The place of a sample in decimal degrees, blurred where protected animals live.
 *
 * @param isExact show it as the log has it all the same
 * @returns undefined when the log gives none, or one outside the globe
 */
export function publicPlace(
  sample: Pick<ExchangeSample, "facts" | "isProtectedSite">,
  isExact: boolean,
): PublicPlace | undefined {
  const latitude = degrees(sample.facts.get("latitude"), 90);
  const longitude = degrees(sample.facts.get("longitude"), 180);
  if (latitude === undefined || longitude === undefined) return undefined;
  if (!sample.isProtectedSite || isExact) return { latitude, longitude, isBlurred: false };
  return { latitude: blurred(latitude), longitude: blurred(longitude), isBlurred: true };
}

function degrees(text: string | undefined, most: number): number | undefined {
  if (text === undefined || !/^[+-]?\d+(\.\d+)?$/.test(text)) return undefined;
  const value = Number(text);
  return Math.abs(value) <= most ? value : undefined;
}

function blurred(value: number): number {
  // Adding 0 takes the sign from a negative zero.
  return Number(value.toFixed(BLURRED_DECIMALS)) + 0;
}
