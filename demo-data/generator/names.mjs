/** What the invented laboratory decided once about names on its sheets. */
export const NAME_DECISIONS = [
  ["Rithrogenna", "Rhithrogena", "slip of the pen on one sheet"],
  ["Cottus", "Actinopterygii", "a sculpin: fish are not counted"],
  ["Baetis", "Baetis", "the genus in the narrow sense"],
  ["Capnia", "Capnia", "the genus in the narrow sense"],
  ["Ephemerella", "Ephemerella", "the genus in the narrow sense"],
  ["Hydropsyche", "Hydropsyche", "with Ceratopsyche as a subgenus"],
  ["Paraleptophlebia", "Paraleptophlebia", "the genus in the narrow sense"],
  ["Polycentropus", "Polycentropus", "the genus in the narrow sense"],
  ["Serratella", "Serratella", "the genus in the narrow sense"],
].map(([sheet_name, accepted_name, note]) => ({ sheet_name, accepted_name, note }));
