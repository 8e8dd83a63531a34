import { describe, expect, it } from "vitest";
import { EXIT } from "../../src/cli/exit-codes.ts";
import { explainFailure } from "../../src/cli/failure.ts";
import { FileError } from "../../src/files/file-error.ts";

/** An error as Node.js makes it of a system's refusal. */
function systemError(code: string, path?: unknown): Error {
  return Object.assign(new Error(`${code}: refused`), { code, ...(path === undefined ? {} : { path }) });
}

describe("an error of the system that no command has caught", () => {
  it.each([
    ["ENOSPC", "no space left on the device"],
    ["EIO", "the device reports a read or write error"],
    ["EACCES", "permission denied"],
    ["EPERM", "permission denied"],
    ["EBADF", "the output is closed"],
  ])("%s is said in words and ends with 4", (code, words) => {
    expect(explainFailure(systemError(code), false)).toEqual({
      text: `jartally: ${words}\n`,
      exit: EXIT.file,
    });
    expect(explainFailure(systemError(code, "out.csv"), false).text).toBe(`jartally: out.csv: ${words}\n`);
    expect(explainFailure(systemError(code, 3), false).text).toBe(`jartally: ${words}\n`);
    expect(explainFailure(systemError(code), true).text).toMatch(/\n\s+at /);
  });

  it("is a bug when it is about nothing that a user can mend", () => {
    expect(explainFailure(systemError("EINVAL"), false).exit).toBe(EXIT.bug);
  });
});

describe("a file that cannot be used", () => {
  it.each([
    ["EACCES", "ask its owner for the right"],
    ["EROFS", "write to another disk or folder"],
    ["ENOSPC", "make room"],
    ["EBUSY", "close it in other programs"],
  ])("is named with what to do about %s", (code, hint) => {
    const error = new FileError("a\nb.csv", "cannot be used", { cause: systemError(code) });
    const { text, exit } = explainFailure(error, false);
    expect([exit, text.trimEnd().split("\n").length]).toEqual([EXIT.file, 1]);
    expect(text).toContain(hint);
    expect(explainFailure(error, true).text).toMatch(/\n\s+at /);
  });
});

describe("anything else", () => {
  it("is a bug of ours, with where it happened only when asked", () => {
    const plain = explainFailure(new TypeError("no number"), false);
    expect(plain.exit).toBe(EXIT.bug);
    expect(plain.text).toMatch(/internal error: no number\nThis is a bug in jartally and not your mistake/);
    expect(plain.text).toMatch(/run again with --debug to see where it happened\n$/);
    expect(explainFailure(new TypeError("no number"), true).text).toMatch(/\n\s+at /);
  });

  it("need not be an error", () => {
    const bare = new Error("bare");
    delete bare.stack;
    expect(explainFailure("a text", true).text).toMatch(/internal error: a text\n.*command line\. $/);
    expect(explainFailure(bare, true).text).toMatch(/internal error: bare\n.*command line\. $/);
  });
});
