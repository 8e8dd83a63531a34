import type { InputFile } from "../../files/input.ts";
import { inputFromBytes, openInput, openInputs } from "../../files/input.ts";

/** A file by its path, or its content with a name for findings. */
export type SheetSource = string | { readonly name: string; readonly content: Uint8Array | string };

/** The library reads no standard input. */
const NO_STDIN: AsyncIterable<Uint8Array> = { [Symbol.asyncIterator]: async function* () {} };

/** Opens files, folders and contents, in their order. @throws FileError when one cannot be read */
export async function openSources(sources: readonly SheetSource[], cwd: string): Promise<InputFile[]> {
  const inputs: InputFile[] = [];
  for (const source of sources) {
    if (typeof source === "string") inputs.push(...(await openInputs([source], { stdin: NO_STDIN, cwd })));
    else inputs.push(inputFromBytes(source.name, source.content));
  }
  return inputs;
}

/** Opens a file or a content. @throws FileError when it cannot be read */
export async function openSource(source: SheetSource, cwd: string): Promise<InputFile> {
  if (typeof source === "string") return openInput(source, { stdin: NO_STDIN, cwd });
  return inputFromBytes(source.name, source.content);
}

/** Opens a source that may be left out. */
export async function openOptional(
  source: SheetSource | undefined,
  cwd: string,
): Promise<InputFile | undefined> {
  return source === undefined ? undefined : openSource(source, cwd);
}
