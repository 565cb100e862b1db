import type { CellProgress } from './headless.js';

/** Where progress is written: a terminal, or anything that takes text. */
export interface ProgressSink {
  readonly isTTY?: boolean;
  readonly columns?: number;
  readonly write: (text: string) => unknown;
}

/**
 * One line a cell: in place on a terminal, line below line elsewhere.
 *
 * @returns `onCell` for the notebook runner, and `end` to clear the line
 */
export function progressOn(sink: ProgressSink): {
  readonly onCell: (progress: CellProgress) => void;
  readonly end: () => void;
} {
  const inPlace = sink.isTTY === true;
  const width = Math.max(20, (sink.columns ?? 80) - 1);
  return {
    onCell: ({ cell, cells, heading }) => {
      const line = `  ${String(cell).padStart(String(cells).length)}/${cells}  ${heading}`;
      sink.write(inPlace ? `\r\u001b[K${line.slice(0, width)}` : `${line}\n`);
    },
    end: () => {
      if (inPlace) sink.write('\r\u001b[K');
    },
  };
}
