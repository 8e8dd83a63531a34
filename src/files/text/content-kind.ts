/** What a file is, seen from its first bytes; its name is not asked. */
export type ContentKind =
  | { readonly kind: "text"; readonly encoding: string; readonly markBytes: number }
  | { readonly kind: "workbook" }
  | { readonly kind: "gzip" }
  | { readonly kind: "empty" }
  | { readonly kind: "unmarked-utf-16"; readonly encoding: string }
  /** Something else, in words that fit behind "this looks like". */
  | { readonly kind: "other"; readonly looksLike: string };

const SIGNATURES: readonly (readonly [readonly number[], string])[] = [
  [[0xd0, 0xcf, 0x11, 0xe0], "a workbook in the old .xls format"],
  [[0x25, 0x50, 0x44, 0x46], "a PDF document"],
  [[0x89, 0x50, 0x4e, 0x47], "a PNG image"],
  [[0xff, 0xd8, 0xff], "a JPEG image"],
  [[0x47, 0x49, 0x46, 0x38], "a GIF image"],
  [[0x37, 0x7a, 0xbc, 0xaf], "a 7z archive"],
  [[0x52, 0x61, 0x72, 0x21], "a RAR archive"],
  [[0x28, 0xb5, 0x2f, 0xfd], "a file packed with zstd"],
  [[0xfd, 0x37, 0x7a, 0x58, 0x5a], "a file packed with xz"],
  [[0x7f, 0x45, 0x4c, 0x46], "a program"],
  [[0x4d, 0x5a, 0x90], "a program"],
  [[0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66], "a database"],
  [[0x7b, 0x5c, 0x72, 0x74, 0x66], "a rich text document"],
];

/** Bytes that `contentKind` should see, when the file has as many. */
export const SNIFF_BYTES = 4096;

/**
 * Tells from the first bytes what a file is.
 *
 * @param head the first SNIFF_BYTES bytes, or all when there are fewer
 * @param declared the encoding the user declared; a byte order mark wins over it
 */
export function contentKind(head: Uint8Array, declared: string | undefined): ContentKind {
  if (head.length === 0) return { kind: "empty" };
  if (startsWith(head, [0x1f, 0x8b])) return { kind: "gzip" };
  if (startsWith(head, [0x50, 0x4b, 0x03, 0x04]) || startsWith(head, [0x50, 0x4b, 0x05, 0x06]))
    return zipKind(head);
  for (const [signature, looksLike] of SIGNATURES) {
    if (startsWith(head, signature)) return { kind: "other", looksLike };
  }
  if (startsWith(head, [0xef, 0xbb, 0xbf])) return { kind: "text", encoding: "utf-8", markBytes: 3 };
  if (startsWith(head, [0xff, 0xfe])) return { kind: "text", encoding: "utf-16le", markBytes: 2 };
  if (startsWith(head, [0xfe, 0xff])) return { kind: "text", encoding: "utf-16be", markBytes: 2 };
  if (declared !== undefined) return { kind: "text", encoding: declared, markBytes: 0 };
  const unmarked = unmarkedUtf16(head);
  if (unmarked !== undefined) return { kind: "unmarked-utf-16", encoding: unmarked };
  const markup = markupKind(head);
  return markup === undefined
    ? { kind: "text", encoding: "utf-8", markBytes: 0 }
    : { kind: "other", looksLike: markup };
}

function startsWith(head: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, at) => head[at] === byte);
}

/** The first entry of an OpenDocument file is named mimetype and not packed, so its kind can be read in place. */
function zipKind(head: Uint8Array): ContentKind {
  const text = Buffer.from(head.subarray(0, 200)).toString("latin1");
  if (text.includes("mimetypeapplication/vnd.oasis.opendocument"))
    return { kind: "other", looksLike: "an OpenDocument file" };
  return { kind: "workbook" };
}

/** In UTF-16 without a mark every second byte of plain words is zero. */
function unmarkedUtf16(head: Uint8Array): string | undefined {
  let even = 0;
  let odd = 0;
  for (let at = 0; at < head.length; at++) {
    if (head[at] === 0) at % 2 === 0 ? even++ : odd++;
  }
  const half = Math.floor(head.length / 2);
  if (half < 4) return undefined;
  if (odd > half * 0.7 && even < half * 0.1) return "utf-16le";
  if (even > half * 0.7 && odd < half * 0.1) return "utf-16be";
  return undefined;
}

function markupKind(head: Uint8Array): string | undefined {
  const start = Buffer.from(head.subarray(0, 200)).toString("latin1").trimStart().toLowerCase();
  if (/^<(!doctype html|html|head|body|table)\b/.test(start)) return "a web page";
  if (/^<(\?xml|svg)\b/.test(start)) return "an XML document";
  if (/^[{[]\s*["[{]/.test(start)) return "JSON";
  return undefined;
}
