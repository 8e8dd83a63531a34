import type { Algorithm } from "../../subsample/algorithms.ts";
import type { OptionDefinition } from "../define.ts";
import { defineOption, UsageError } from "../define.ts";

/** Older versions stay selectable, so that a draw of years ago can be made again. */
export function algorithmOption(kind: readonly Algorithm<unknown>[]): OptionDefinition<string> {
  return defineOption<string>({
    flags: "--algorithm <id>",
    summary: "Version of the random procedure, to repeat an earlier draw.",
    group: "Method",
    choices: () => kind.map((algorithm) => algorithm.id),
    defaultText: "the newest",
    parse: (word) => word,
  });
}

/** @throws UsageError when the version is that of another procedure */
export function refuseOtherKind(
  id: string | undefined,
  kind: readonly Algorithm<unknown>[],
  doing: string,
): void {
  if (id === undefined || kind.some((algorithm) => algorithm.id === id)) return;
  const known = kind.map((algorithm) => algorithm.id).join(", ");
  throw new UsageError(`--algorithm: ${id} does not ${doing}; there is ${known}`);
}
