import { basename, dirname, join, resolve } from "node:path";
import { closestTexts } from "../metrics/closest.ts";
import { compareCodePoints } from "../model/order.ts";
import { asFileError, FileError, systemCode } from "./file-error.ts";
import type { FileSystem, OpenFile } from "./file-system.ts";
import { nodeFileSystem } from "./file-system.ts";
import { fitsPattern } from "./name-pattern.ts";

/** How standard input is shown in findings. */
export const STDIN_NAME = "<stdin>";

/** A file the user gave, checked to be readable but not read yet. */
export interface InputFile {
  /** As the user gave it (a member of a folder: the folder as given, a slash, its name). */
  readonly name: string;
  /** The whole content. Pipes and standard input can be taken once, by this or by `chunks`. */
  readonly bytes: () => Promise<Uint8Array>;
  /** The content piece by piece, so that a large file never lies in memory as a whole. */
  readonly chunks: () => AsyncIterable<Uint8Array>;
  /** In bytes; undefined for pipes, standard input and content in memory. */
  readonly size?: number;
  /** The sheet asked for behind `#`, for a workbook. */
  readonly sheet?: string;
  /** True for a file that was found in a folder and not named itself. */
  readonly isFound?: boolean;
}

/** What `openInputs` needs of the world. */
export interface OpenOptions {
  readonly stdin: AsyncIterable<Uint8Array>;
  readonly cwd: string;
  readonly fileSystem?: FileSystem;
}

/** Names of files that are tables, as a folder is searched for them. */
const TABLE_FILE = /\.(csv|tsv|txt|xlsx)(\.gz)?$/i;
const CHUNK_BYTES = 1 << 18;

/**
 * Finds the inputs of a command and checks that each can be read, before any work is done. A folder stands for
 * the tables right in it (csv, tsv, txt, xlsx, also packed with gzip) in code point order; hidden files and the
 * lock files of spreadsheet programs are left out, and folders in it are not entered. * and ? in the last part of
 * a path stand for all files that fit. `FILE.xlsx#Sheet` names a sheet, `-` is standard input.
 *
 * @throws FileError when one is missing, not permitted, a folder without tables, or standard input a second time
 */
export async function openInputs(given: readonly string[], options: OpenOptions): Promise<InputFile[]> {
  const fileSystem = options.fileSystem ?? nodeFileSystem;
  const inputs: InputFile[] = [];
  let isStdinTaken = false;
  for (const argument of given) {
    if (argument === "-") {
      if (isStdinTaken) throw new FileError(STDIN_NAME, "standard input can be given once only");
      isStdinTaken = true;
      inputs.push(inputOf(STDIN_NAME, undefined, () => options.stdin));
    } else inputs.push(...(await openArgument(argument, options.cwd, fileSystem)));
  }
  return inputs;
}

/** Opens one input, which may not be a folder with several tables. */
export async function openInput(argument: string, options: OpenOptions): Promise<InputFile> {
  const inputs = await openInputs([argument], options);
  const [input, second] = inputs;
  if (input !== undefined && second === undefined) return input;
  const names = inputs.slice(0, 6).map(({ name }) => name);
  const what = inputs.some(({ isFound }) => isFound === true) ? "is a directory" : "fits several files";
  const more = inputs.length > names.length ? ", …" : "";
  throw new FileError(argument, `${what}; name one file: ${names.join(", ")}${more}`);
}

async function openArgument(argument: string, cwd: string, fileSystem: FileSystem): Promise<InputFile[]> {
  const matches = await matchPattern(argument, cwd, fileSystem);
  if (matches !== undefined) {
    const opened = [];
    for (const match of matches) opened.push(...(await openPath(match, cwd, fileSystem)));
    return opened;
  }
  return openPath(argument, cwd, fileSystem);
}

/**
 * Files whose names fit a pattern with * and ? in its last part, which some shells hand over as it is; undefined
 * when the word is no such pattern or a file of that very name is there.
 */
async function matchPattern(
  argument: string,
  cwd: string,
  fileSystem: FileSystem,
): Promise<string[] | undefined> {
  const [, folder = "", pattern = ""] = /^(.*[/\\])?([^/\\]*)$/s.exec(argument) ?? [];
  if (!/[*?]/.test(pattern) || /[*?]/.test(folder)) return undefined;
  if (await fileSystem.isTaken(resolve(cwd, argument)).catch(() => false)) return undefined;
  const members = await fileSystem.list(resolve(cwd, folder)).catch(() => []);
  const found = members
    .filter((member) => !member.startsWith(".") && fitsPattern(member, pattern))
    .sort(compareCodePoints);
  if (found.length === 0) throw new FileError(argument, "no file fits this pattern");
  return found.map((member) => `${folder}${member}`);
}

async function openPath(argument: string, cwd: string, fileSystem: FileSystem): Promise<InputFile[]> {
  const { name, sheet } = await splitSheet(argument, cwd, fileSystem);
  const path = resolve(cwd, name);
  try {
    const facts = await fileSystem.facts(path);
    if (facts.kind === "folder") return await openFolder(name, path, cwd, fileSystem);
    if (facts.kind === "file") {
      await fileSystem.checkReadable(path);
      return [{ ...inputOf(name, sheet, () => readPath(name, path, fileSystem)), size: facts.size }];
    }
    // A pipe would lose its writer if it were opened twice, so it stays open from here.
    const handle = await fileSystem.openToRead(path);
    return [inputOf(name, sheet, () => readHandle(name, handle))];
  } catch (error) {
    if (systemCode(error) === "ENOENT") throw await missingFile(name, path, error, fileSystem);
    throw asFileError(name, error);
  }
}

/** A file that is not there, with the ones beside it that are written nearly so. */
async function missingFile(
  name: string,
  path: string,
  cause: unknown,
  fileSystem: FileSystem,
): Promise<FileError> {
  const folder = dirname(path);
  const shownFolder = name.slice(0, name.length - basename(name).length);
  const members = await fileSystem.list(folder).catch(() => undefined);
  if (members === undefined && shownFolder !== "")
    return new FileError(name, `no such file or folder, and no folder ${shownFolder} either`, { cause });
  const near = closestTexts(basename(path), members ?? []).map((member) => `${shownFolder}${member}`);
  const question = near.length === 0 ? "" : `; did you mean ${near.join(" or ")}?`;
  return new FileError(name, `no such file or folder${question}`, { cause });
}

async function openFolder(
  name: string,
  path: string,
  cwd: string,
  fileSystem: FileSystem,
): Promise<InputFile[]> {
  const members = (await fileSystem.list(path))
    .filter((member) => TABLE_FILE.test(member) && !member.startsWith(".") && !member.startsWith("~$"))
    .sort(compareCodePoints);
  const inputs: InputFile[] = [];
  for (const member of members) {
    const memberPath = join(path, member);
    if ((await fileSystem.facts(memberPath)).kind === "folder") continue;
    const found = await openPath(`${name.replace(/\/+$/, "")}/${member}`, cwd, fileSystem);
    inputs.push(...found.map((input) => ({ ...input, isFound: true })));
  }
  if (inputs.length === 0) throw new FileError(name, "is a directory without a csv, tsv, txt or xlsx file");
  return inputs;
}

/** `#` is a lawful character of file names, so a file of the whole name comes first. */
async function splitSheet(
  argument: string,
  cwd: string,
  fileSystem: FileSystem,
): Promise<{ readonly name: string; readonly sheet: string | undefined }> {
  const match = /^(.+\.xlsx(?:\.gz)?)#(.+)$/is.exec(argument);
  if (match?.[1] === undefined || match[2] === undefined) return { name: argument, sheet: undefined };
  if (await fileSystem.isTaken(resolve(cwd, argument)).catch(() => false))
    return { name: argument, sheet: undefined };
  return { name: match[1], sheet: match[2] };
}

function inputOf(
  name: string,
  sheet: string | undefined,
  chunks: () => AsyncIterable<Uint8Array>,
): InputFile {
  const base = { name, chunks, bytes: () => collect(chunks()) };
  return sheet === undefined ? base : { ...base, sheet };
}

/** Puts bytes in memory behind the face of an input; for tests and for callers that have the content already. */
export function inputFromBytes(name: string, content: Uint8Array | string, sheet?: string): InputFile {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  return inputOf(name, sheet, async function* () {
    if (bytes.length > 0) yield bytes;
  });
}

/** The same input, whose chunks go through a function. */
export function throughChunks(
  input: InputFile,
  pass: (chunks: AsyncIterable<Uint8Array>) => AsyncIterable<Uint8Array>,
): InputFile {
  const chunks = () => pass(input.chunks());
  return { ...input, chunks, bytes: () => collect(chunks()) };
}

/** Joins chunks into one array. */
export async function collect(chunks: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  for await (const chunk of chunks) parts.push(chunk);
  return Buffer.concat(parts);
}

async function* readPath(name: string, path: string, fileSystem: FileSystem): AsyncGenerator<Uint8Array> {
  try {
    const handle = await fileSystem.openToRead(path);
    yield* readHandle(name, handle, true);
  } catch (error) {
    throw asFileError(name, error);
  }
}

/**
 * The bytes of an open file piece by piece; closes it at the end, however that comes.
 *
 * @param isAhead whether the next piece is read while the last one is used; not for a pipe, whose next piece may
 *   never come
 * @throws FileError as it is read
 */
export async function* readHandle(
  name: string,
  handle: OpenFile,
  isAhead = false,
): AsyncGenerator<Uint8Array> {
  let ahead: Promise<Uint8Array> | undefined;
  try {
    for (;;) {
      const piece = await (ahead ?? nextPiece(handle));
      if (piece.length === 0) return;
      if (isAhead) {
        ahead = nextPiece(handle);
        // A failure is met when its turn comes.
        ahead.catch(() => undefined);
      }
      yield piece;
    }
  } catch (error) {
    throw asFileError(name, error);
  } finally {
    await ahead?.catch(() => undefined);
    await handle.close();
  }
}

async function nextPiece(handle: OpenFile): Promise<Uint8Array> {
  const buffer = Buffer.allocUnsafeSlow(CHUNK_BYTES);
  const length = await handle.read(buffer);
  return length === buffer.length ? buffer : buffer.subarray(0, length);
}
