/** A place in a text: 1-based line, 1-based character of the line. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

type Path = readonly (string | number)[];

/**
 * Finds where a value stands in the text of a JSON document: at its key in an object, at its first character in
 * an array. Where the path leads nowhere (a key that is missing), the place of the last part that is there.
 *
 * @param text valid JSON
 */
export function placeInJson(text: string, path: Path): TextPlace {
  const scan = new Scan(text);
  scan.space();
  return placeOf(text, find(scan, path, scan.at));
}

function find(scan: Scan, path: Path, start: number): number {
  const [next, ...rest] = path;
  if (next === undefined) return start;
  if (scan.text[scan.at] === "{" && typeof next === "string") {
    for (const key of scan.members()) {
      if (key.name === next) return rest.length === 0 ? key.at : find(scan, rest, key.at);
      scan.skip();
    }
  } else if (scan.text[scan.at] === "[" && typeof next === "number") {
    let index = 0;
    for (const at of scan.elements()) {
      if (index++ === next) return find(scan, rest, at);
      scan.skip();
    }
  }
  return start;
}

function placeOf(text: string, at: number): TextPlace {
  const before = text.slice(0, at);
  return { line: before.split("\n").length, column: at - before.lastIndexOf("\n") };
}

/** Walks over valid JSON text; `at` is the offset of the next character. */
class Scan {
  readonly text: string;
  at = 0;

  constructor(text: string) {
    this.text = text;
  }

  space(): void {
    while (/\s/.test(this.text[this.at] ?? "")) this.at++;
  }

  /** The keys of the object that starts here, each with the offset of its quote; `at` is then at the value. */
  *members(): Generator<{ readonly name: string; readonly at: number }> {
    this.at++;
    for (this.space(); this.at < this.text.length && this.text[this.at] !== "}"; this.#next()) {
      const at = this.at;
      const name: unknown = JSON.parse(this.#string());
      this.space();
      this.at++;
      this.space();
      yield { name: String(name), at };
    }
    this.at++;
  }

  /** The offsets of the elements of the array that starts here; `at` is then at the element. */
  *elements(): Generator<number> {
    this.at++;
    for (this.space(); this.at < this.text.length && this.text[this.at] !== "]"; this.#next()) yield this.at;
    this.at++;
  }

  /** Goes past the value that starts here. */
  skip(): void {
    const first = this.text[this.at];
    if (first === '"') this.#string();
    else if (first === "{") for (const _ of this.members()) this.skip();
    else if (first === "[") for (const _ of this.elements()) this.skip();
    else while (this.at < this.text.length && !/[\s,\]}]/.test(this.text[this.at] as string)) this.at++;
  }

  #next(): void {
    this.space();
    if (this.text[this.at] === ",") this.at++;
    this.space();
  }

  #string(): string {
    const start = this.at++;
    while (this.at < this.text.length && this.text[this.at] !== '"')
      this.at += this.text[this.at] === "\\" ? 2 : 1;
    this.at++;
    return this.text.slice(start, this.at);
  }
}
