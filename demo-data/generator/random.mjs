/**
 * A small seeded source of whole numbers for the demo data, and for nothing else.
 *
 * Only 32-bit whole-number arithmetic is used, so that the same seed gives the same animals on every machine
 * and with every version of Node. Each sample has a stream of its own, started from the seed and the sample
 * id: changing one sample leaves the others as they are.
 *
 * The generator is the 32-bit xorshift of Marsaglia (2003, Journal of Statistical Software 8(14)) with the
 * shifts 13, 17 and 5; its start value is a 32-bit FNV-1a hash (offset 2166136261, prime 16777619). Both are
 * written from memory of the publications. That is good enough to invent a stream with; the program itself
 * draws with another generator.
 *
 * @param {number} seed whole number
 * @param {string} streamName what the stream is for, for instance a sample id
 * @returns {{below: (limit: number) => number}} `below(n)` is a whole number from 0 to n - 1, all equally likely
 */
export function startStream(seed, streamName) {
  let state = hashText(`${seed}/${streamName}`) || 1;
  const next = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
  // The first values still resemble the hash they came from.
  for (let i = 0; i < 16; i++) next();
  return {
    below(limit) {
      if (!Number.isInteger(limit) || limit < 1) throw new RangeError(`below(${limit})`);
      // Values past the last whole multiple of the limit are thrown away, or small numbers would be favoured.
      const usable = 0x1_0000_0000 - (0x1_0000_0000 % limit);
      let value = next();
      while (value >= usable) value = next();
      return value % limit;
    },
  };
}

function hashText(text) {
  let hash = 2166136261;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 16777619);
  return hash >>> 0;
}
