/**
 * Writes rows as CSV (RFC 4180 quoting, but line feed at line ends, as in the rest of this folder).
 *
 * @param {readonly string[]} columns
 * @param {readonly Record<string, string|number>[]} rows a column that a row lacks is an empty cell
 * @returns {string}
 */
export function csvText(columns, rows) {
  const lines = [columns, ...rows.map((row) => columns.map((column) => row[column] ?? ""))];
  for (const row of rows) {
    const stray = Object.keys(row).find((key) => !columns.includes(key));
    if (stray !== undefined) throw new Error(`no column ${stray}`);
  }
  return lines.map((cells) => `${cells.map(cellText).join(",")}\n`).join("");
}

function cellText(value) {
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
