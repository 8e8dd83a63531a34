import { TextDecoder } from "node:util";

/**
 * What the bytes 0x80 to 0x9F mean in windows-1252 (WHATWG Encoding Standard, index windows-1252). Written out
 * because runtimes of different versions have decoded these 32 bytes differently, and a name on a bench sheet
 * must be the same text on every machine.
 */
const WINDOWS_1252_UPPER =
  "\u20AC\u0081\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\u008D\u017D\u008F" +
  "\u0090\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\u009D\u017E\u0178";

const WINDOWS_1252_LABELS: ReadonlySet<string> = new Set([
  "windows-1252",
  "cp1252",
  "latin1",
  "iso-8859-1",
  "ascii",
  "us-ascii",
]);

/**
 * The canonical name of an encoding as a user may write it (`--encoding latin1`), or undefined when it is not
 * known. `latin1` and `ascii` are windows-1252, as on the web.
 */
export function knownEncoding(label: string): string | undefined {
  const lower = label.trim().toLowerCase();
  if (WINDOWS_1252_LABELS.has(lower)) return "windows-1252";
  try {
    return new TextDecoder(lower).encoding;
  } catch {
    return undefined;
  }
}

/**
 * The canonical name of an encoding.
 *
 * @throws RangeError when it is not known; the command line offers only known ones
 */
export function requireEncoding(label: string): string {
  const encoding = knownEncoding(label);
  if (encoding === undefined) throw new RangeError(`not a known encoding: ${label}`);
  return encoding;
}

/** A byte that has no meaning in the encoding of the file. */
export interface BadBytes {
  readonly badByte: number;
}

/**
 * Decodes chunks strictly. A byte that is not text in the encoding is handed on as `BadBytes` in its place, once
 * for a file; what follows is decoded with replacement characters, so that the other faults are found as well.
 *
 * @param encoding a name that `knownEncoding` gave
 */
export async function* decodeText(
  chunks: AsyncIterable<Uint8Array>,
  encoding: string,
): AsyncGenerator<string | BadBytes> {
  if (encoding === "windows-1252") {
    for await (const chunk of chunks) yield decodeWindows1252(chunk);
    return;
  }
  const strict = new TextDecoder(encoding, { fatal: true, ignoreBOM: true });
  const lenient = new TextDecoder(encoding, { ignoreBOM: true });
  let isStrict = true;
  // Bytes of a character that the last chunk ended within.
  let started: Uint8Array = new Uint8Array(0);
  for await (const chunk of CAN_BE_CUT.test(encoding) ? chunks : whole(chunks)) {
    if (!isStrict) {
      yield lenient.decode(chunk, { stream: true });
      continue;
    }
    const bytes = started.length === 0 ? chunk : Buffer.concat([started, chunk]);
    const end = wholeCharacters(bytes, encoding);
    const text = tryDecode(strict, bytes.subarray(0, end), false);
    if (text !== undefined) {
      yield text;
      started = bytes.slice(end);
      continue;
    }
    isStrict = false;
    yield* aroundBadByte(bytes, encoding, lenient);
  }
  if (isStrict && started.length > 0) yield* aroundBadByte(started, encoding, lenient);
}

/** Encodings whose chunks can be decoded one by one; others are rare and decoded as a whole. */
const CAN_BE_CUT = /^(utf-8|utf-16le|utf-16be|windows-\d+|iso-8859-\d+|ibm866|macintosh|koi8-[ru])$/;

async function* whole(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const parts: Uint8Array[] = [];
  for await (const chunk of chunks) parts.push(chunk);
  yield Buffer.concat(parts);
}

function* aroundBadByte(
  bytes: Uint8Array,
  encoding: string,
  lenient: TextDecoder,
): Generator<string | BadBytes> {
  const good = goodLength(bytes, encoding);
  yield tryDecode(strictDecoder(encoding), bytes.subarray(0, good), false) ?? "";
  yield { badByte: bytes[good] ?? 0 };
  yield lenient.decode(bytes.subarray(good), { stream: true });
}

function strictDecoder(encoding: string): TextDecoder {
  return new TextDecoder(encoding, { fatal: true, ignoreBOM: true });
}

function tryDecode(decoder: TextDecoder, bytes: Uint8Array, stream: boolean): string | undefined {
  try {
    return decoder.decode(bytes, { stream });
  } catch {
    return undefined;
  }
}

/** Where the last character that is all here ends, so that every piece can be decoded by itself. */
function wholeCharacters(bytes: Uint8Array, encoding: string): number {
  const length = bytes.length;
  if (encoding === "utf-8") {
    // A character has at most four bytes; look for the start of one that is not all here.
    for (let back = 1; back <= Math.min(3, length); back++) {
      const byte = bytes[length - back] ?? 0;
      if (byte < 0x80) return length;
      if (byte >= 0xc0) {
        const needs = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
        return needs > back ? length - back : length;
      }
    }
    return length;
  }
  if (encoding === "utf-16le" || encoding === "utf-16be") {
    const even = length - (length % 2);
    if (even === 0) return 0;
    const high = (encoding === "utf-16le" ? bytes[even - 1] : bytes[even - 2]) ?? 0;
    return high >= 0xd8 && high <= 0xdb ? even - 2 : even;
  }
  return length;
}

/** How many bytes from the start are text; found by halving, since it happens at most once a file. */
function goodLength(bytes: Uint8Array, encoding: string): number {
  let fits = 0;
  let fails = bytes.length + 1;
  while (fails - fits > 1) {
    const middle = (fits + fails) >> 1;
    if (tryDecode(strictDecoder(encoding), bytes.subarray(0, middle), true) === undefined) fails = middle;
    else fits = middle;
  }
  // A prefix may end within a character that never gets whole: the bad byte is where that one starts.
  let good = fits;
  while (good > 0 && tryDecode(strictDecoder(encoding), bytes.subarray(0, good), false) === undefined) good--;
  return good;
}

function decodeWindows1252(bytes: Uint8Array): string {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");
  return text.replace(/[\x80-\x9f]/g, (control) => WINDOWS_1252_UPPER.charAt(control.charCodeAt(0) - 0x80));
}
