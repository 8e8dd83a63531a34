import { FileError, systemCode } from "../files/file-error.ts";
import { oneLine } from "../files/visible-text.ts";
import { UnknownClassesError } from "../reference/choose-ratings.ts";
import { UnknownSetError } from "../reference/find-set.ts";
import { EXIT, type ExitCode } from "./exit-codes.ts";

/** What to tell the user of an exception, and the exit code it means. */
export function explainFailure(
  error: unknown,
  isDebug: boolean,
): { readonly text: string; readonly exit: ExitCode } {
  if (error instanceof FileError) {
    return {
      text: `jartally: ${oneLine(`${error.path}: ${error.reason}${hintOf(error)}`)}\n${isDebug ? stackOf(error) : ""}`,
      exit: EXIT.file,
    };
  }
  if (error instanceof UnknownSetError || error instanceof UnknownClassesError) {
    return { text: `jartally: ${oneLine(`${error.message} (${error.hint})`)}\n`, exit: EXIT.usage };
  }
  const system = systemError(error);
  if (system !== undefined) {
    return { text: `jartally: ${oneLine(system)}\n${isDebug ? stackOf(error) : ""}`, exit: EXIT.file };
  }
  const message = error instanceof Error ? error.message : String(error);
  const help = isDebug ? stackOf(error) : "run again with --debug to see where it happened\n";
  return {
    text: `jartally ${JARTALLY_VERSION}: internal error: ${message}\nThis is a bug in jartally and not your mistake; please report it with the command line. ${help}`,
    exit: EXIT.bug,
  };
}

/** What to do about a file that the system does not let us have. */
const HINTS: ReadonlyMap<string, string> = new Map([
  ["EACCES", "ask its owner for the right, or work on a copy in a folder of your own"],
  ["EPERM", "ask its owner for the right, or work on a copy in a folder of your own"],
  ["EROFS", "write to another disk or folder"],
  ["ENOSPC", "make room, or write to another disk"],
  ["EDQUOT", "make room, or write to another disk"],
  ["EBUSY", "close it in other programs"],
  ["ETXTBSY", "close it in other programs"],
]);

function hintOf({ cause }: FileError): string {
  const hint = HINTS.get(systemCode(cause) ?? "");
  return hint === undefined ? "" : ` (${hint})`;
}

/** Errors of the system that are about files and devices, in words. */
function systemError(error: unknown): string | undefined {
  if (!(error instanceof Error) || !("code" in error)) return undefined;
  const place = "path" in error && typeof error.path === "string" ? `${error.path}: ` : "";
  switch (error.code) {
    case "ENOSPC":
      return `${place}no space left on the device`;
    case "EIO":
      return `${place}the device reports a read or write error`;
    case "EACCES":
    case "EPERM":
      return `${place}permission denied`;
    case "EBADF":
      return `${place}the output is closed`;
    default:
      return undefined;
  }
}

function stackOf(error: unknown): string {
  return error instanceof Error && error.stack !== undefined ? `${error.stack}\n` : "";
}
