/** A small generator of numbers for tests (Park and Miller 1988, minimal standard), so that runs repeat. */
export function numbers(seed: number): (below: number) => number {
  let state = (seed % 2147483646) + 1;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

/** Bytes that are likelier than others to matter. */
const TELLING = Buffer.from("\"',;\t\r\n\0\x1b\xef\xbb\xbf\xff\xfe\xc3\xa9-=#.0Zx ", "latin1");

/** A copy of bytes with a few of them changed, left out, repeated or moved, as damage and slips do. */
export function mutate(bytes: Uint8Array, next: (below: number) => number): Uint8Array {
  let copy = Buffer.from(bytes);
  for (let times = 1 + next(4); times > 0; times--) {
    const at = next(copy.length || 1);
    const end = Math.min(copy.length, at + 1 + next(40));
    switch (next(6)) {
      case 0:
        copy[at] = next(256);
        break;
      case 1:
        copy[at] = TELLING[next(TELLING.length)] ?? 0;
        break;
      case 2:
        copy = Buffer.concat([copy.subarray(0, at), copy.subarray(end)]);
        break;
      case 3:
        copy = Buffer.concat([copy.subarray(0, end), copy.subarray(at, end), copy.subarray(end)]);
        break;
      case 4:
        copy = Buffer.concat([copy.subarray(0, at), TELLING.subarray(0, 1 + next(6)), copy.subarray(at)]);
        break;
      default:
        copy = copy.subarray(0, next(8) === 0 ? at : copy.length);
    }
  }
  return copy;
}
