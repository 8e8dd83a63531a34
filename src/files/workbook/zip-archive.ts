import { crc32, inflateRawSync } from "node:zlib";

/** An archive that cannot be used, with the reason in words for the user. */
export class ArchiveError extends Error {
  override readonly name = "ArchiveError";
}

/** One file of an archive, as its central directory describes it. */
export interface ArchiveEntry {
  readonly name: string;
  /** 0 stored, 8 deflated. */
  readonly method: number;
  readonly isEncrypted: boolean;
  readonly crc: number;
  readonly packedSize: number;
  readonly size: number;
  /** Where its local header starts. */
  readonly offset: number;
}

const END_SIGNATURE = 0x06054b50;
const CENTRAL_SIGNATURE = 0x02014b50;
const LOCAL_SIGNATURE = 0x04034b50;
const END_LENGTH = 22;
const CENTRAL_LENGTH = 46;
const LOCAL_LENGTH = 30;
/** A workbook has some dozens of parts. */
const MOST_ENTRIES = 10_000;

/**
 * Reads the central directory of a ZIP archive (APPNOTE.TXT 6.3, sections 4.3.12 and 4.3.16) without unpacking
 * anything, so that sizes can be judged first.
 *
 * @throws ArchiveError when it is damaged, split, or of a kind that workbooks never are
 */
export function readDirectory(bytes: Uint8Array): ArchiveEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findEnd(view);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count > MOST_ENTRIES || at === 0xffffffff)
    throw new ArchiveError("it has too many parts for a workbook");
  const entries: ArchiveEntry[] = [];
  const names = new Set<string>();
  for (let number = 0; number < count; number++) {
    if (at + CENTRAL_LENGTH > view.byteLength || view.getUint32(at, true) !== CENTRAL_SIGNATURE)
      throw new ArchiveError("its directory is damaged");
    const nameLength = view.getUint16(at + 28, true);
    const name = Buffer.from(bytes.subarray(at + CENTRAL_LENGTH, at + CENTRAL_LENGTH + nameLength)).toString(
      "utf8",
    );
    if (names.has(name)) throw new ArchiveError(`it has two parts called ${name}`);
    names.add(name);
    entries.push({
      name,
      isEncrypted: (view.getUint16(at + 8, true) & 1) === 1,
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packedSize: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    });
    at += CENTRAL_LENGTH + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}

/**
 * Unpacks one file of an archive and holds it to what the directory says: not a byte more, and the same checksum.
 *
 * @throws ArchiveError when it is damaged, locked, or larger than it says
 */
export function unpackEntry(bytes: Uint8Array, entry: ArchiveEntry): Uint8Array {
  if (entry.isEncrypted) throw new ArchiveError("it is locked with a password");
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { offset } = entry;
  if (offset + LOCAL_LENGTH > view.byteLength || view.getUint32(offset, true) !== LOCAL_SIGNATURE)
    throw new ArchiveError(`its part ${entry.name} is damaged`);
  const start = offset + LOCAL_LENGTH + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  const packed = bytes.subarray(start, start + entry.packedSize);
  const content = entry.method === 0 ? packed : inflate(packed, entry);
  if (content.length !== entry.size || crc32(content) !== entry.crc)
    throw new ArchiveError(`its part ${entry.name} is damaged`);
  return content;
}

function inflate(packed: Uint8Array, entry: ArchiveEntry): Uint8Array {
  if (entry.method !== 8) throw new ArchiveError(`its part ${entry.name} is packed in an unknown way`);
  try {
    // One byte of room more than it may have: a part that lies about its size is stopped there.
    return inflateRawSync(packed, { maxOutputLength: entry.size + 1 });
  } catch (error) {
    throw new ArchiveError(`its part ${entry.name} is damaged`, { cause: error });
  }
}

/** The record that ends an archive; a comment of up to 65,535 bytes may follow it. */
function findEnd(view: DataView): number {
  const lowest = Math.max(0, view.byteLength - END_LENGTH - 0xffff);
  for (let at = view.byteLength - END_LENGTH; at >= lowest; at--) {
    if (view.getUint32(at, true) === END_SIGNATURE) return at;
  }
  throw new ArchiveError("it is cut off or damaged");
}
