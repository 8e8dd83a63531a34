/** What is wrong with a JSON text, and where: 1-based line and character of the line. */
export interface JsonFault {
  readonly line: number;
  readonly column: number;
  readonly message: string;
}

/** Deepest nesting; more is an attack or a slip, and would exhaust the stack. */
const DEEPEST = 200;

/**
 * Reads JSON strictly (RFC 8259): a key that stands twice in an object is a fault, because readers differ in
 * which of the values they take, and a fault has a line and a column that do not depend on the runtime.
 */
export function parseJson(text: string): { readonly value: unknown } | { readonly fault: JsonFault } {
  try {
    new JsonCheck(text).whole();
  } catch (error) {
    if (error instanceof JsonTrouble) return { fault: placed(text, error) };
    throw error;
  }
  const value: unknown = JSON.parse(text);
  return { value };
}

class JsonTrouble extends Error {
  readonly at: number;

  constructor(at: number, message: string) {
    super(message);
    this.at = at;
  }
}

function placed(text: string, trouble: JsonTrouble): JsonFault {
  const before = text.slice(0, trouble.at).split(/\r\n|\n|\r/);
  return {
    line: before.length,
    column: (before[before.length - 1] ?? "").length + 1,
    message: trouble.message,
  };
}

/** Walks over a text by the grammar of JSON and stops at the first fault. */
class JsonCheck {
  readonly #text: string;
  #at = 0;
  #depth = 0;

  constructor(text: string) {
    this.#text = text;
  }

  whole(): void {
    this.#space();
    this.#value();
    this.#space();
    if (this.#at < this.#text.length) this.#fail("there is text behind the end");
  }

  #value(): void {
    const first = this.#text[this.#at];
    if (first === "{") this.#nested(() => this.#members());
    else if (first === "[") this.#nested(() => this.#elements());
    else if (first === '"') this.#string();
    else if (
      !this.#token(/-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y) &&
      !this.#token(/(?:true|false|null)/y)
    )
      this.#fail(first === undefined ? "it ends where a value belongs" : "a value belongs here");
  }

  #nested(read: () => void): void {
    if (++this.#depth > DEEPEST) this.#fail(`it is nested deeper than ${DEEPEST} times`);
    this.#at++;
    this.#space();
    read();
    this.#depth--;
  }

  #members(): void {
    const keys = new Map<string, number>();
    if (this.#take("}")) return;
    do {
      this.#space();
      const at = this.#at;
      if (this.#text[at] !== '"') this.#fail("a key in quotes belongs here");
      const raw = this.#string();
      const key: unknown = JSON.parse(raw);
      if (keys.has(String(key))) throw new JsonTrouble(at, `the key ${raw} stands twice in this object`);
      keys.set(String(key), at);
      this.#space();
      if (!this.#take(":")) this.#fail("a colon belongs here");
      this.#space();
      this.#value();
      this.#space();
    } while (this.#take(","));
    if (!this.#take("}")) this.#fail("a comma or the end of the object belongs here");
  }

  #elements(): void {
    if (this.#take("]")) return;
    do {
      this.#space();
      this.#value();
      this.#space();
    } while (this.#take(","));
    if (!this.#take("]")) this.#fail("a comma or the end of the list belongs here");
  }

  #string(): string {
    const start = this.#at++;
    for (;;) {
      const unit = this.#text.charCodeAt(this.#at);
      if (Number.isNaN(unit)) throw new JsonTrouble(start, "a quote opens here and is never closed");
      if (unit === 34) break;
      if (unit < 32) this.#fail("a control character stands in a text; write it as an escape");
      if (unit !== 92) this.#at++;
      else if (!this.#token(/\\(?:["\\/bfnrt]|u[\da-fA-F]{4})/y)) this.#fail("this escape is not known");
    }
    this.#at++;
    return this.#text.slice(start, this.#at);
  }

  #take(character: string): boolean {
    if (this.#text[this.#at] !== character) return false;
    this.#at++;
    return true;
  }

  #token(pattern: RegExp): boolean {
    pattern.lastIndex = this.#at;
    const found = pattern.exec(this.#text);
    if (found === null) return false;
    this.#at += found[0].length;
    return true;
  }

  #space(): void {
    for (;;) {
      const unit = this.#text.charCodeAt(this.#at);
      if (unit !== 32 && unit !== 10 && unit !== 13 && unit !== 9) return;
      this.#at++;
    }
  }

  #fail(message: string): never {
    throw new JsonTrouble(this.#at, message);
  }
}
