/** What a command speaks through: so that a test can listen, and a running notebook not get between. */
export interface Io {
  /** Folder that the paths on the command line count from. */
  readonly from: string;
  /** Writes to standard output. */
  readonly out: (text: string) => void;
  /** Writes to standard error. */
  readonly err: (text: string) => void;
  /** Width in characters where output goes to a terminal, `null` where it goes elsewhere. */
  readonly columns: number | null;
  /**
   * What to do when the command is stopped from outside (Ctrl-C): at once, without waiting.
   *
   * @returns takes it back
   */
  readonly onStop: (clean: () => void) => () => void;
  /** Asks somebody at a terminal; left out where nobody sits there. */
  readonly ask?: (question: string) => Promise<string>;
}

/** A command: the arguments after its name → the exit code (0 done, 1 a fault of ours, 2 bad input). */
export type Verb = (args: readonly string[], io: Io) => Promise<number>;
