import { createRequire } from 'node:module';

const KEY = Symbol.for('meterpair.notebook');

/** What a cell displays, as the kernel's protocol has it. */
export interface DisplayMessage {
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly transient: { readonly display_id?: string };
}

export type WriteDisplay = (message: DisplayMessage, update: boolean) => void;

/** The notebook that runs in this process. */
export interface NotebookState {
  /** Title of the figure that carries the plotting bundle; `null` before the first one. */
  bundleIn: string | null;
  /** Where displays go in a headless run; `null` in Jupyter, whose kernel has its own way. */
  write: WriteDisplay | null;
}

/**
 * The state hangs on the process and not on this module, because the package that a notebook imports
 * and the one that runs the notebook may be loaded from two places.
 */
export function notebookState(): NotebookState {
  const holder = globalThis as unknown as Record<symbol, NotebookState | undefined>;
  holder[KEY] ??= { bundleIn: null, write: null };
  return holder[KEY];
}

/** The kernel's module, where displays go in Jupyter; `null` where no kernel is loaded. */
export function loadedKernel(): { lastWriteDisplayData: WriteDisplay | null } | null {
  const require = createRequire(import.meta.url);
  try {
    return require.cache[require.resolve('tslab/dist/jupyter.js')]?.exports ?? null;
  } catch {
    return null;
  }
}
