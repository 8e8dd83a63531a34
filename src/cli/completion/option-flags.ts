import type { OptionDefinition } from "../define.ts";

/** The flags of an option taken apart. */
export interface OptionFlags {
  /** "--output" */
  readonly long: string;
  /** "-o", where there is one. */
  readonly short: string | undefined;
  /** The name of the value in help, "file"; undefined for a switch. */
  readonly value: string | undefined;
}

/** Takes "-o, --output <file>" apart. */
export function optionFlags({ flags }: Pick<OptionDefinition<unknown>, "flags">): OptionFlags {
  const match = /^(?:(-\w), )?(--[a-z-]+)(?: [<[](.+)[>\]])?$/.exec(flags);
  return { short: match?.[1], long: match?.[2] ?? flags, value: match?.[3] };
}
