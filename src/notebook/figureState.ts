const KEY = Symbol.for('meterpair.notebook.figures');

/** Which figure of the running notebook carries the plotting bundle. */
export interface FigureState {
  /** Title of that figure; `null` before the first one. */
  bundleIn: string | null;
}

/**
 * The state of the notebook that runs in this process. It hangs on the process and not on this
 * module, because the package that a notebook imports and the one that runs the notebook may be
 * loaded from two places.
 */
export function figureState(): FigureState {
  const holder = globalThis as unknown as Record<symbol, FigureState | undefined>;
  holder[KEY] ??= { bundleIn: null };
  return holder[KEY];
}

/** A new notebook starts: no figure has been shown yet. */
export function forgetFigures(): void {
  figureState().bundleIn = null;
}
