import { existsSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import * as node from "node:fs/promises";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import * as ours from "../../src/start/promised-files.ts";
import { freshFolder, REPOSITORY } from "../helpers/run-jartally.ts";

type Files = Pick<typeof node, Exclude<keyof typeof ours, "open">> & { readonly open: typeof ours.open };

/** A folder with a file, a folder with a file in it, and two links. */
function folder(): string {
  const path = freshFolder();
  writeFileSync(join(path, "a.csv"), "sample_id\nA\n");
  symlinkSync("a.csv", join(path, "link"));
  symlinkSync("nowhere", join(path, "dangling"));
  return path;
}

/** Takes longer to write than a file to close. */
const LARGE = 1 << 24;

/** What comes out of doing something in a folder, and what is in the folder then. Times and places differ. */
async function told(files: Files, does: (files: Files, path: string) => Promise<unknown>): Promise<unknown> {
  const path = folder();
  const plain = (text: string) => text.replaceAll(path, "FOLDER");
  const result = await does(files, path).then(
    (value) => (typeof value === "string" ? plain(value) : value),
    (error: NodeJS.ErrnoException) => ({
      ...{ code: error.code, syscall: error.syscall, message: plain(error.message) },
      isError: error instanceof Error,
    }),
  );
  if (!existsSync(path)) return { result, left: "nothing" };
  const left = readdirSync(path, { recursive: true, withFileTypes: true }).map((entry) => {
    const full = join(entry.parentPath, entry.name);
    return [relative(path, full), entry.isFile() ? readFileSync(full, "utf8") : entry.isDirectory()];
  });
  return { result, left };
}

const factsOf = (found: { isFile(): boolean; isDirectory(): boolean; mode: number; size: number }) => [
  ...[found.isFile(), found.isDirectory(), found.mode, found.isFile() ? found.size : undefined],
];

const DEEDS: readonly (readonly [string, (files: Files, path: string) => Promise<unknown>])[] = [
  ...["a.csv", "link", "dangling", "none", "a.csv/b", ""].flatMap(
    (name): [string, (files: Files, path: string) => Promise<unknown>][] => [
      [`access "${name}"`, (files, path) => files.access(join(path, name), 4)],
      [`stat "${name}"`, async (files, path) => factsOf(await files.stat(join(path, name)))],
      [`lstat "${name}"`, async (files, path) => factsOf(await files.lstat(join(path, name)))],
      [`readFile "${name}"`, (files, path) => files.readFile(join(path, name))],
      [`readFile as text "${name}"`, (files, path) => files.readFile(join(path, name), "utf8")],
      [`realpath "${name}"`, (files, path) => files.realpath(join(path, name))],
      [`readdir "${name}"`, (files, path) => files.readdir(join(path, name))],
      [`unlink "${name}"`, (files, path) => files.unlink(join(path, name))],
      [`rename "${name}"`, (files, path) => files.rename(join(path, name), join(path, "new"))],
      [`writeFile "${name}"`, (files, path) => files.writeFile(join(path, name), "b")],
      [
        `writeFile where nothing is "${name}"`,
        (files, path) => files.writeFile(join(path, name), "b", { flag: "wx" }),
      ],
      [`mkdir "${name}"`, (files, path) => files.mkdir(join(path, name))],
      [
        `mkdir with those above it "${name}"`,
        async (files, path) => void (await files.mkdir(join(path, name, "x/y"), { recursive: true })),
      ],
      [`chmod "${name}"`, (files, path) => files.chmod(join(path, name), 0o700)],
      [`rm "${name}"`, (files, path) => files.rm(join(path, name), { recursive: true, force: true })],
      [
        `open and read "${name}"`,
        async (files, path) => {
          const file = await files.open(join(path, name), "r");
          try {
            const buffer = new Uint8Array(8);
            const lengths = [];
            for (let turn = 0; turn < 3; turn++) lengths.push((await file.read(buffer, 1, 7)).bytesRead);
            return { lengths, bytes: [...buffer] };
          } finally {
            await file.close();
          }
        },
      ],
      [
        `open and write "${name}"`,
        async (files, path) => {
          const file = await files.open(join(path, name), "wx", 0o640);
          const { bytesWritten } = await file.write(new TextEncoder().encode("abcdef"), 1, 3);
          await file.write(new TextEncoder().encode("ghi"), 0, 3);
          await file.sync();
          await file.close();
          return [bytesWritten, factsOf(await files.stat(join(path, name)))];
        },
      ],
    ],
  ),
  [
    "close while a file is written",
    async (files, path) => {
      const file = await files.open(join(path, "large"), "wx", 0o640);
      const told: unknown[] = [];
      const written = file
        .write(new Uint8Array(LARGE), 0, LARGE)
        .then((done) => told.push(done.bytesWritten));
      await file.close();
      told.push("closed");
      await written;
      const late = file.write(new Uint8Array(1), 0, 1);
      await late.catch((error: NodeJS.ErrnoException) => told.push(error.code));
      await files.unlink(join(path, "large"));
      return told;
    },
  ],
];

describe("the functions for files that the built program has", () => {
  it.each(DEEDS)("%s does what the module of Node does", async (_, does) => {
    expect(await told(ours as unknown as Files, does)).toEqual(await told(node as unknown as Files, does));
  });

  it("are what stands in the bundle, and the module of Node is not", () => {
    const bundle = readFileSync(join(REPOSITORY, "dist/program.cjs"), "utf8");
    expect(bundle).toContain("src/start/promised-files.ts");
    expect(bundle).not.toMatch(/require\("(node:)?fs\/promises"\)/);
  });
});
