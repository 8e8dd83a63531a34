import { mutate } from "../../helpers/mutate.ts";

/** A whole number from 0 up to, and without, a limit. */
export type Draw = (below: number) => number;

/** What has no place in a cell, or hardly any. */
const ODD_CELLS = [
  "",
  " ",
  "0",
  "-0",
  "-1",
  "1.5",
  "1,5",
  "1e3",
  "0x10",
  "١٢",
  "1000000000",
  "1000000001",
  "9007199254740993",
  "9".repeat(400),
  "Infinity",
  "NaN",
  "NA",
  "#N/A",
  "-",
  "n/a",
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "=1+1",
  "@SUM(A1)",
  "'",
  '"',
  '"open',
  'in "quotes"',
  "a,b",
  "a;b",
  "a\tb",
  "two\nlines",
  "two\r\nlines",
  "\u0000",
  "\u001b[2J",
  "\ufeff",
  "\u200b",
  "\u202eabc",
  "\u00a0",
  "é",
  "e\u0301",
  "漢字",
  "😀",
  "\ud800",
  "2024-02-30",
  "02/03/04",
  "5x6",
  "0x0",
  "1000x1000",
  "1/3",
  "0/0",
  "100%",
  "yes",
  "no",
  "kept",
  "released",
  "expanded",
  "larva",
  "sp.",
  "Baetis",
  "Baetis sp. A",
  "Chironomidae",
  "cf. Baetis",
  "Baetis/Caenis",
  "Total",
  "S-1",
  "s-1",
  "S-1 ",
  "../../x",
  "x".repeat(70_000),
];

const ODD_VALUES: readonly unknown[] = [
  null,
  true,
  0,
  -1,
  1.5,
  1e308,
  "",
  "x",
  "__proto__",
  [],
  {},
  [[]],
  ["x", "x"],
  [null],
  "x".repeat(70_000),
  -0,
  2 ** 53,
  "mean",
  "all",
  "../..",
];

function pick<T>(list: readonly T[], draw: Draw): T | undefined {
  return list[draw(list.length)];
}

/** A table with rows, cells and columns moved, doubled, lost or filled with something odd. */
function changeTable(text: string, draw: Draw): string {
  const rows = text.split("\n").map((line) => line.split(","));
  const at = () => draw(rows.length || 1);
  for (let times = 1 + draw(4); times > 0; times--) {
    const row = rows[at()] ?? [];
    switch (draw(8)) {
      case 0:
        row[draw(row.length + 1)] = pick(ODD_CELLS, draw) ?? "";
        break;
      case 1:
        row[draw(row.length || 1)] = pick(pick(rows, draw) ?? [], draw) ?? "";
        break;
      case 2:
        rows.splice(at(), 1);
        break;
      case 3:
        rows.splice(at(), 0, [...row]);
        break;
      case 4:
        row.splice(draw(row.length || 1), 1);
        break;
      case 5: {
        const name = pick(ODD_CELLS, draw) ?? "";
        for (const [n, one] of rows.entries()) one.push(n === 0 ? name : (pick(ODD_CELLS, draw) ?? ""));
        break;
      }
      case 6: {
        const header = rows[0] ?? [];
        header[draw(header.length || 1)] = pick(ODD_CELLS, draw) ?? "";
        break;
      }
      default: {
        const column = draw((rows[0] ?? []).length || 1);
        const odd = pick(ODD_CELLS, draw) ?? "";
        for (const one of rows.slice(1)) if (one.length > column) one[column] = odd;
      }
    }
  }
  return rows.map((row) => row.join(",")).join("\n");
}

/** A JSON text with values replaced, keys added and parts left out. */
function changeJson(text: string, draw: Draw): string {
  const root = { value: JSON.parse(text) as unknown };
  for (let times = 1 + draw(3); times > 0; times--) {
    let holder: Record<string, unknown> = root;
    let key = "value";
    for (let depth = draw(7); depth > 0; depth--) {
      const value = holder[key];
      if (typeof value !== "object" || value === null) break;
      const keys = Object.keys(value);
      if (keys.length === 0) break;
      holder = value as Record<string, unknown>;
      key = pick(keys, draw) ?? "";
    }
    switch (draw(4)) {
      case 0:
        delete holder[key];
        break;
      case 1:
        holder[pick(["x", "__proto__", "id", key], draw) ?? "x"] = pick(ODD_VALUES, draw);
        break;
      default:
        holder[key] = pick(ODD_VALUES, draw);
    }
  }
  return JSON.stringify(root.value, undefined, draw(2)) ?? "";
}

/** A damaged copy of a file: a slip in its form most of the time, changed bytes otherwise. */
export function damaged(bytes: Uint8Array, name: string, draw: Draw): Uint8Array {
  const text = () => new TextDecoder().decode(bytes);
  if (draw(3) === 0 || /\.(xlsx|gz)$/.test(name)) return mutate(bytes, draw);
  const changed = name.endsWith(".json") ? changeJson(text(), draw) : changeTable(text(), draw);
  const encoded = new TextEncoder().encode(changed);
  return draw(8) === 0 ? mutate(encoded, draw) : encoded;
}

/** A command line of words that belong there and words that do not. */
export function oddWords(known: readonly string[], draw: Draw): string[] {
  const words: string[] = [];
  for (let times = 1 + draw(7); times > 0; times--) {
    const word = pick(known, draw) ?? "";
    switch (draw(6)) {
      case 0:
        words.push(word.startsWith("--") ? `${word}=${pick(known, draw)}` : word);
        break;
      case 1:
        // A path that leads out of the folder, or a name of 70,000 letters, is tried by files.
        words.push((pick(ODD_CELLS, draw) ?? "").replaceAll(/[/\\]|\0/g, ".").slice(0, 300));
        break;
      case 2:
        words.push(word.slice(0, draw(word.length + 1)));
        break;
      default:
        words.push(word);
    }
  }
  return words;
}
