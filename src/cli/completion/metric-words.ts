import { METRICS } from "../../metrics/registry.ts";
import type { Offer } from "./offers.ts";

/**
 * The catalogue of metrics as words. The build runs this file and puts its result in its place: what a metric
 * needs to work takes too long to load for an answer to the tab key.
 */
export const METRIC_WORDS: readonly Offer[] = METRICS.map(({ id, name }) => ({ word: id, about: name }));
