/** A stream of text to a person or a pipe. */
export interface TextStream {
  /** Resolves when the text has been taken; rejects when it cannot be written (never for a closed pipe). */
  write(text: string): Promise<void>;
  /**
   * Shows a line on a terminal until the next text of any stream of it; the empty line takes it away at once.
   */
  status(line: string): Promise<void>;
  readonly isTerminal: boolean;
  /** Width in columns; 80 when it is no terminal. */
  readonly width: number;
  /** True once the reader has gone away; there is no point in writing more. */
  readonly isClosed: boolean;
}

/** The world as a command sees it. */
export interface CommandContext {
  readonly stdin: AsyncIterable<Uint8Array>;
  readonly stdout: TextStream;
  readonly stderr: TextStream;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  /** The calendar day where the user is, year-month-day; the only clock that a check looks at. */
  readonly today: () => string;
  /** A whole number from a true source of randomness, for `--seed random`. */
  readonly drawSeed: () => number;
}
