import { quoted } from "../../files/visible-text.ts";
import { didYouMean } from "../../metrics/closest.ts";
import { at } from "../../model/at.ts";

/** A request to the library that cannot be met as it is written: a key that there is not, or a value of another kind. */
export class RequestError extends TypeError {
  constructor(message: string) {
    super(message);
    this.name = "RequestError";
  }
}

/** What a key of a request may hold. */
export type RequestValue = "text" | "texts" | "source" | "sources" | "number" | "object" | "anything";

/** The keys of a request; those that have to be there end with "!". */
export type RequestShape<Request> = {
  readonly [Key in keyof Required<Request>]: RequestValue | `${RequestValue}!`;
};

const IN_WORDS: Readonly<Record<RequestValue, string>> = {
  text: "a text that is not empty",
  texts: "a list of texts",
  source: "a path, or { name, content }",
  sources: "a list of paths or of { name, content }",
  number: "a number, or null",
  object: "an object",
  anything: "a value",
};

/**
 * Checks a request before anything is opened. A key that nobody knows is most often a slip for one that matters,
 * so it is refused instead of being passed over.
 *
 * @param what how messages call the function, for instance "scoreSamples"
 * @throws RequestError for the first key that is unknown, missing or of another kind
 */
export function checkRequest<Request>(what: string, request: unknown, shape: RequestShape<Request>): void {
  if (typeof request !== "object" || request === null || Array.isArray(request))
    throw new RequestError(`${what} takes one object, for instance { ${at(Object.keys(shape), 0)}: ... }`);
  const rules = new Map<string, string>(Object.entries(shape));
  const given = new Map<string, unknown>(Object.entries(request));
  for (const key of given.keys()) {
    if (rules.has(key)) continue;
    const known = [...rules.keys()];
    throw new RequestError(
      `${what}: there is no key ${quoted(key)}${didYouMean(key, known) || `; the keys are ${known.join(", ")}`}`,
    );
  }
  for (const [key, rule] of rules) {
    const kind = kindOfRule(rule);
    const value = given.get(key);
    if (value === undefined) {
      if (rule.endsWith("!")) throw new RequestError(`${what}: "${key}" is missing; it is ${IN_WORDS[kind]}`);
    } else if (!fits(value, kind)) throw new RequestError(`${what}: "${key}" must be ${IN_WORDS[kind]}`);
  }
}

function kindOfRule(rule: string): RequestValue {
  const kinds: readonly RequestValue[] = ["text", "texts", "source", "sources", "number", "object"];
  return kinds.find((kind) => kind === rule.replace("!", "")) ?? "anything";
}

function fits(value: unknown, kind: RequestValue): boolean {
  switch (kind) {
    case "text":
      return isText(value);
    case "texts":
      return Array.isArray(value) && value.every(isText);
    case "source":
      return isSource(value);
    case "sources":
      return Array.isArray(value) && value.every(isSource);
    case "number":
      return value === null || typeof value === "number";
    case "object":
      return typeof value === "object" && value !== null;
    case "anything":
      return true;
  }
}

function isText(value: unknown): boolean {
  return typeof value === "string" && value !== "";
}

function isSource(value: unknown): boolean {
  if (isText(value)) return true;
  if (typeof value !== "object" || value === null || !("name" in value) || !("content" in value))
    return false;
  const { name, content } = value;
  return isText(name) && (typeof content === "string" || content instanceof Uint8Array);
}
