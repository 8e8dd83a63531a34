import { createHash } from "node:crypto";

/** Characters of the digest at the end of a shortened id: 40 bits, so that no two ids of a lab meet. */
const DIGEST = 10;

/**
 * An id in at most so many characters. One that is too long keeps its beginning and ends in a part of its SHA-256,
 * so it stays unlike every other and the same in every export.
 */
export function fitId(id: string, most: number): string {
  const characters = [...id];
  if (characters.length <= most) return id;
  const digest = createHash("sha256").update(id, "utf8").digest("hex").slice(0, DIGEST);
  return `${characters.slice(0, most - DIGEST - 1).join("")}-${digest}`;
}

/** A text in at most so many characters; one that is too long ends in an ellipsis. */
export function fitText(text: string, most: number): string {
  const characters = [...text];
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join("")}…`;
}
