/** Exit codes of every command. When several apply, the one that stands higher in `worst` wins. */
export const EXIT = {
  done: 0,
  /** Done, and the answer is no: a quality limit missed, a comparison that differs, warnings under --strict. */
  no: 1,
  usage: 2,
  /** The data were refused, in whole or for at least one sample. */
  refused: 3,
  /** A file could not be read or written. */
  file: 4,
  /** A bug in jartally. */
  bug: 70,
  interrupted: 130,
  terminated: 143,
} as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

const PRECEDENCE: readonly ExitCode[] = [EXIT.bug, EXIT.file, EXIT.refused, EXIT.no];

/** The exit code to give when several apply. */
export function worst(...codes: readonly ExitCode[]): ExitCode {
  return (
    PRECEDENCE.find((code) => codes.includes(code)) ?? codes.find((code) => code !== EXIT.done) ?? EXIT.done
  );
}

/** What `--help` says about them. */
export const EXIT_CODE_TEXT: readonly (readonly [ExitCode, string])[] = [
  [EXIT.done, "done"],
  [EXIT.no, "done, and the answer is no (a limit missed, a difference found, warnings under --strict)"],
  [EXIT.usage, "wrong usage"],
  [EXIT.refused, "the data were refused, in whole or for at least one sample"],
  [EXIT.file, "a file could not be read or written"],
  [EXIT.bug, "a bug in jartally"],
  [EXIT.interrupted, "interrupted (143: terminated)"],
];
