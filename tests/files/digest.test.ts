import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { sha256, sha256OfFile } from "../../src/files/digest.ts";
import { freshFolder } from "../helpers/run-jartally.ts";

describe("digests", () => {
  // FIPS 180-2, appendix B.1 (recalled from memory): the one-block message "abc".
  it("is SHA-256", () => {
    expect(sha256("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  });

  const PIECE = 1 << 20;
  it.each([0, 1, PIECE - 1, PIECE, PIECE + 1, 3 * PIECE + 7])(
    "of a file of %i bytes is that of its bytes",
    async (length) => {
      const bytes = Buffer.from(Uint8Array.from({ length }, (_, at) => (at * 31 + (at >> 11)) & 0xff));
      const path = join(freshFolder(), "file");
      writeFileSync(path, bytes);
      expect(await sha256OfFile(path)).toBe(sha256(bytes));
    },
  );

  it("fails as the system does where there is no file", async () => {
    await expect(sha256OfFile(join(freshFolder(), "none"))).rejects.toThrow("ENOENT");
  });
});
