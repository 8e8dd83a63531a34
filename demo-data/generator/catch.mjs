import { RESPONSES, TAXA } from "./taxa.mjs";

/**
 * Invents the animals of one sample.
 *
 * An urn scheme (Hoppe 1984, Journal of Mathematical Biology 20: 91-94; cited from memory): each animal in turn
 * either starts a new pile, with chance variety / (variety + animals so far), or joins the pile of an animal
 * drawn from those already there. The sizes of the piles then follow Fisher's log-series, as real catches
 * roughly do: a few taxa with many animals, and many with one or two. Which taxon a new pile belongs to is drawn
 * by the weights of the taxa in that region, changed by the stress of the site. Only whole numbers are used.
 *
 * @param {{stratum: "upland"|"valley"|"lowland", stress: number, animals: number, variety: number,
 *   season: "spring"|"autumn"}} visit stress from 0 (none) to 4 (severe); variety is the parameter of the urn, larger for a richer catch
 * @param {{below: (limit: number) => number}} stream
 * @param {ReadonlyMap<string, number>} [beside] a catch of the same riffle: the new one begins with its piles, as
 *   a second net beside the first would find them, and only the animals added count
 * @returns {Map<string, number>} number of animals by taxon, in the order of the taxa table
 */
export function inventCatch(visit, stream, beside = new Map()) {
  const weights = TAXA.map((taxon) => weightOf(taxon, visit));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const animals = TAXA.flatMap((taxon, index) => Array(beside.get(taxon.name) ?? 0).fill(index));
  const before = animals.length;
  for (let i = before; i < before + visit.animals; i++) {
    const startsPile = stream.below(visit.variety + i) < visit.variety;
    animals.push(startsPile ? drawByWeight(weights, total, stream) : animals[stream.below(i)]);
  }
  const caught = animals.slice(before);
  const counts = new Map();
  TAXA.forEach((taxon, index) => {
    const count = caught.filter((animal) => animal === index).length;
    if (count > 0) counts.set(taxon.name, count);
  });
  return counts;
}

function weightOf(taxon, { stratum, stress, season }) {
  if (taxon.season !== "" && taxon.season !== season) return 0;
  // Squared, so that the common stand out from the rare.
  return taxon[stratum] * taxon[stratum] * RESPONSES[taxon.response][stress];
}

function drawByWeight(weights, total, stream) {
  let rest = stream.below(total);
  let index = 0;
  while (rest >= weights[index]) {
    rest -= weights[index];
    index++;
  }
  return index;
}
