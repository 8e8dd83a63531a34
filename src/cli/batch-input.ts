import type { InputFile } from "../files/input.ts";
import { openInput, openInputs } from "../files/input.ts";
import type { CommandContext } from "./context.ts";
import type { CommandInput } from "./define.ts";
import { UsageError } from "./define.ts";
import { encodingOption, namesOption, samplesOption } from "./options/input.ts";
import { progressLine } from "./progress.ts";
import { watchedInputs } from "./watched-inputs.ts";

/** The files of a batch as the command line names them, all opened before any work. */
export interface OpenedBatch {
  readonly sheets: readonly InputFile[];
  readonly sampleLog: InputFile | undefined;
  readonly names: InputFile | undefined;
  readonly encoding: string | undefined;
  /** Every path given, for the checks of the output. */
  readonly paths: readonly string[];
}

/** Opens the bench sheets and, where given, the sample log and the list of names. */
export async function openBatch(context: CommandContext, input: CommandInput): Promise<OpenedBatch> {
  if (input.operands.length === 0) throw new UsageError("name at least one bench sheet");
  const world = { stdin: context.stdin, cwd: context.cwd };
  const logPath = input.options.get(samplesOption);
  const namesPath = input.options.get(namesOption);
  const paths = [...input.operands, ...[logPath, namesPath].filter((path) => path !== undefined)];
  if (paths.filter((path) => path === "-").length > 1) {
    throw new UsageError("standard input (-) can be given once only");
  }
  const sheets = await openInputs(input.operands, world);
  return {
    sheets: watchedInputs(sheets, progressLine(context, input.options)),
    sampleLog: logPath === undefined ? undefined : await openInput(logPath, world),
    names: namesPath === undefined ? undefined : await openInput(namesPath, world),
    encoding: input.options.get(encodingOption),
    paths,
  };
}
