/** A packed file that cannot be unpacked; the message says why, in words for the user. */
export class PackedFileError extends Error {
  override readonly name = "PackedFileError";
}
