// Properties are looked at once for every mutant: a few examples, the same each time, and no search for the
// smallest one that fails.
import real from "fast-check";

const MOST = 25;

function assert(property, parameters = {}) {
  const { numRuns = MOST, seed = 1 } = parameters;
  return real.assert(property, { ...parameters, seed, numRuns: Math.min(numRuns, MOST), endOnFailure: true });
}

export default { ...real, assert };
